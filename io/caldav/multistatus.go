package caldav

import (
	"context"
	"encoding/xml"
	"errors"
	"net/http"
	"net/url"
	"path"
	"strings"
)

// The properties asked for, and how they are answered (RFC 4918, sections 9.1
// and 14; RFC 4791, sections 4.2 and 9.10).
type multistatus struct {
	XMLName   xml.Name `xml:"DAV: multistatus"`
	Responses []struct {
		Href      string `xml:"DAV: href"`
		Propstats []struct {
			Status string `xml:"DAV: status"`
			Prop   struct {
				ETag string `xml:"DAV: getetag"`
				Type struct {
					Calendar *struct{} `xml:"urn:ietf:params:xml:ns:caldav calendar"`
				} `xml:"DAV: resourcetype"`
				Data string `xml:"urn:ietf:params:xml:ns:caldav calendar-data"`
			} `xml:"DAV: prop"`
		} `xml:"DAV: propstat"`
	} `xml:"DAV: response"`
}

const listing = `<?xml version="1.0" encoding="utf-8"?>
<propfind xmlns="DAV:"><prop><resourcetype/><getetag/></prop></propfind>`

// ErrNoCalendar says that there is something else, or nothing, at an address.
var ErrNoCalendar = errors.New("there is no calendar at this address")

// list gives the ETags of the objects whose names begin with a prefix.
func (c *Calendar) list(ctx context.Context, prefix string) (map[string]string, error) {
	all, err := c.multi(ctx, "PROPFIND", listing)
	if r := refusal(err); r != nil && r.Status == http.StatusNotFound {
		return nil, ErrNoCalendar
	}
	if err != nil {
		return nil, err
	}
	out, calendar := map[string]string{}, false
	for _, r := range all.Responses {
		for _, p := range r.Propstats {
			// The folder that holds calendars lists them, and is none.
			if p.Prop.Type.Calendar != nil && c.itself(r.Href) {
				calendar = true
			}
			if name := named(r.Href); p.Prop.ETag != "" && strings.HasPrefix(name, prefix) {
				out[name] = opaque(p.Prop.ETag)
			}
		}
	}
	if !calendar {
		return nil, ErrNoCalendar
	}
	return out, nil
}

// opaque gives an ETag without the mark of a weak one (RFC 9110, section 8.8.1). What
// stands between, and squeezes answers, makes servers' strong ones weak, and no weak one
// is a condition of a change (section 13.1.1). Where it was weak at the server, too, the
// change is refused, and the object left as it is.
func opaque(etag string) string { return strings.TrimPrefix(etag, "W/") }

// version is an object as the server has it.
type version struct{ etag, data string }

// batch is how many objects are fetched at once.
const batch = 100

// fetch gives the objects of these names that are there.
func (c *Calendar) fetch(ctx context.Context, names []string) (map[string]version, error) {
	out := map[string]version{}
	for len(names) > 0 {
		n := min(batch, len(names))
		var b strings.Builder
		b.WriteString(`<?xml version="1.0" encoding="utf-8"?>
<C:calendar-multiget xmlns="DAV:" xmlns:C="urn:ietf:params:xml:ns:caldav"><prop><getetag/><C:calendar-data/></prop>`)
		for _, name := range names[:n] {
			b.WriteString("<href>")
			u := *c.base
			u.Path += name
			if err := xml.EscapeText(&b, []byte(u.EscapedPath())); err != nil {
				return nil, err
			}
			b.WriteString("</href>")
		}
		b.WriteString("</C:calendar-multiget>")
		all, err := c.multi(ctx, "REPORT", b.String())
		if err != nil {
			return nil, err
		}
		for _, r := range all.Responses {
			for _, p := range r.Propstats {
				if p.Prop.Data != "" {
					out[named(r.Href)] = version{opaque(p.Prop.ETag), p.Prop.Data}
				}
			}
		}
		names = names[n:]
	}
	return out, nil
}

func (c *Calendar) multi(ctx context.Context, method, body string) (*multistatus, error) {
	_, b, err := c.ask(ctx, method, "", map[string]string{"Depth": "1", "Content-Type": "application/xml; charset=utf-8"}, body)
	if err != nil {
		return nil, err
	}
	var all multistatus
	if err := xml.Unmarshal(b, &all); err != nil {
		return nil, errors.New("the server answers, but not as one with calendars does (no multistatus of WebDAV)")
	}
	return &all, nil
}

// itself tells whether an address is the calendar's own.
func (c *Calendar) itself(href string) bool {
	u, err := url.Parse(strings.TrimSpace(href))
	return err == nil && strings.TrimSuffix(u.Path, "/") == strings.TrimSuffix(c.base.Path, "/")
}

// named gives the last step of an address.
func named(href string) string {
	u, err := url.Parse(strings.TrimSpace(href))
	if err != nil || strings.HasSuffix(u.Path, "/") {
		return ""
	}
	return path.Base(u.Path)
}

// precondition gives the first condition that an error answer names.
func precondition(body []byte) string {
	var e struct {
		XMLName xml.Name `xml:"DAV: error"`
		Any     []struct {
			XMLName xml.Name
		} `xml:",any"`
	}
	if xml.Unmarshal(body, &e) != nil || len(e.Any) == 0 {
		return ""
	}
	return e.Any[0].XMLName.Local
}
