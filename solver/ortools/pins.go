package ortools

import (
	_ "embed"
	"encoding/hex"
	"fmt"
	"runtime"
	"strings"
)

//go:embed pins.txt
var pinsText string

// Release is the pinned release of OR-Tools, and Pins its wheels, one a platform.
var Release, Pins = mustParsePins(pinsText)

// A Pin says which wheel carries the libraries of one platform.
type Pin struct {
	Platform    string // GOOS/GOARCH
	PipPlatform string // the --platform that pip download wants
	Wheel       string // file name
	SHA256      string // of the wheel, lower-case hexadecimal
}

// Folder names the pin in a path: a new pin never meets the files of an old one.
func (p Pin) Folder() string {
	return "ortools-" + Release + "-" + strings.ReplaceAll(p.Platform, "/", "-")
}

// PinFor gives the pin of a platform, written GOOS/GOARCH.
func PinFor(platform string) (Pin, error) {
	known := make([]string, 0, len(Pins))
	for _, p := range Pins {
		if p.Platform == platform {
			return p, nil
		}
		known = append(known, p.Platform)
	}
	return Pin{}, fmt.Errorf("OR-Tools %s is pinned for %s, not for %s", Release, strings.Join(known, ", "), platform)
}

// ThisPlatform is the platform this program was built for, written GOOS/GOARCH.
const ThisPlatform = runtime.GOOS + "/" + runtime.GOARCH

func parsePins(text string) (release string, pins []Pin, err error) {
	for i, line := range strings.Split(text, "\n") {
		f := strings.Fields(line)
		switch {
		case len(f) == 0 || strings.HasPrefix(f[0], "#"):
		case len(f) == 2 && f[0] == "release":
			release = f[1]
		case len(f) == 4 && strings.Count(f[0], "/") == 1:
			if sum, err := hex.DecodeString(f[3]); err != nil || len(sum) != 32 {
				return "", nil, fmt.Errorf("pins.txt:%d: sha256: %s: not 64 hexadecimal digits", i+1, f[3])
			}
			if release == "" || !strings.HasPrefix(f[2], "ortools-"+release+"-") {
				return "", nil, fmt.Errorf("pins.txt:%d: wheel: %s: not of the release %q named above it", i+1, f[2], release)
			}
			pins = append(pins, Pin{Platform: f[0], PipPlatform: f[1], Wheel: f[2], SHA256: f[3]})
		default:
			return "", nil, fmt.Errorf("pins.txt:%d: want release VERSION, or PLATFORM PIP-PLATFORM WHEEL SHA256", i+1)
		}
	}
	if len(pins) == 0 {
		return "", nil, fmt.Errorf("pins.txt: no wheel is pinned")
	}
	return release, pins, nil
}

// mustParsePins panics on a bad pins.txt: the file is part of the program, and a test reads it first.
func mustParsePins(text string) (string, []Pin) {
	release, pins, err := parsePins(text)
	if err != nil {
		panic(err)
	}
	return release, pins
}
