package stand

import (
	"bytes"
	_ "embed"
	"html/template"
	"net/http"
)

//go:embed steps.html.tmpl
var stepsText string

var steps = template.Must(template.New("steps").Parse(stepsText))

// Steps serves, unencrypted and under the same key, what a phone needs before it can
// trust the page at an address: the root's certificate, and how to install it.
func Steps(key func() (string, error), r *Root, page string) (http.Handler, error) {
	var b bytes.Buffer
	if err := steps.Execute(&b, struct{ Fingerprint, Page string }{r.Fingerprint(), page}); err != nil {
		return nil, err
	}
	files := map[string]asset{
		"":         {kinds[".html"], b.Bytes(), squeezed(b.Bytes())},
		"root.crt": {"application/x-x509-ca-cert", r.cert.Raw, squeezed(r.cert.Raw)},
	}
	return http.HandlerFunc(func(w http.ResponseWriter, q *http.Request) {
		headers(w.Header())
		k, err := key()
		rest, ok := under(k, q.URL)
		file, isFile := files[rest]
		if err != nil || !ok || !isFile || !fromHere(q.Host) || q.Method != http.MethodGet {
			http.NotFound(w, q)
			return
		}
		send(w, q, file, false)
	}), nil
}
