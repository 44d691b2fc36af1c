module primaprova

go 1.26
