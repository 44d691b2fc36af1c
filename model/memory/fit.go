package memory

import (
	"math"

	"primaprova/model"
)

// Fit gives the curve of a player with these checks; with none it is what is known
// of any player. The numbers are the most likely ones, found by Newton's method
// with expected second derivatives (Fisher's scoring) and halved steps, and their covariance
// is the inverse of those (Laplace's method):
//
//	cov⁻¹ = Σ p(1−p)·∂η·∂ηᵀ + prior variance⁻¹
func Fit(checks []model.Check) *Curve {
	c := &Curve{Checks: len(checks), mean: prior.mean}
	for _, x := range checks {
		if x.Held {
			c.Held++
		}
	}
	const most = 100 // some six are needed
	worth, slope, information := posterior(&c.mean, checks)
	for range most {
		c.cov = inverse(information)
		var step vector
		for i := range step {
			for j := range slope {
				step[i] += c.cov[i][j] * slope[j]
			}
		}
		next, better := c.mean, false
		for size := 1.0; size > 1e-6 && !better; size /= 2 {
			for i := range next {
				next[i] = c.mean[i] + size*step[i]
			}
			var now float64
			now, _, _ = posterior(&next, checks)
			better = now > worth
		}
		if !better {
			break
		}
		c.mean = next
		worth, slope, information = posterior(&c.mean, checks)
	}
	c.cov = inverse(information)
	return c
}

// posterior gives the logarithm of the posterior density, but for a constant, its
// derivatives, and the negative of the expected second ones.
func posterior(v *vector, checks []model.Check) (worth float64, slope vector, information [numbers]vector) {
	for i := range v {
		off := v[i] - prior.mean[i]
		worth -= off * off / (2 * prior.variance[i])
		slope[i] = -off / prior.variance[i]
		information[i][i] = 1 / prior.variance[i]
	}
	for _, x := range checks {
		eta, d := v.at(Of(x))
		p := logistic(eta)
		miss := -p
		if x.Held {
			miss = 1 - p
			worth -= math.Log1p(math.Exp(-eta))
		} else {
			worth -= math.Log1p(math.Exp(eta))
		}
		for i := range d {
			slope[i] += miss * d[i]
			for j := range d {
				information[i][j] += p * (1 - p) * d[i] * d[j]
			}
		}
	}
	return worth, slope, information
}

// inverse gives the inverse of a symmetric positive definite matrix, by Gauss and
// Jordan; such a matrix needs no pivots.
func inverse(m [numbers]vector) (out [numbers]vector) {
	for i := range out {
		out[i][i] = 1
	}
	for i := range m {
		by := m[i][i]
		for j := range m {
			m[i][j], out[i][j] = m[i][j]/by, out[i][j]/by
		}
		for k := range m {
			if k == i {
				continue
			}
			by := m[k][i]
			for j := range m {
				m[k][j] -= by * m[i][j]
				out[k][j] -= by * out[i][j]
			}
		}
	}
	return out
}
