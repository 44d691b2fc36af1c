package seasonfile

import "primaprova/model"

// validate gives the model's faults their places. A season that could not be
// read whole is not judged: what is missing from it would only be said twice.
func (r *reader) validate(s *model.Season) {
}
