package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/pflag"
	"github.com/spf13/viper"

	"primaprova/io/disk"
	"primaprova/io/seasonfile"
)

// strangers names what the environment sets by our prefix and is no setting: a
// slip there would be obeyed by nothing, and seen by nobody.
func strangers(environment []string) []string {
	names := []string{envPrefix + "_SETTINGS", envPrefix + "_USER", envPrefix + "_PASSWORD"}
	for _, k := range known {
		names = append(names, envPrefix+"_"+strings.ToUpper(k.name))
	}
	var out []string
	for _, e := range environment {
		name, _, _ := strings.Cut(e, "=")
		if !strings.HasPrefix(name, envPrefix+"_") || slices.Contains(names, name) {
			continue
		}
		text := name + ": is no setting, and changes nothing"
		// What all have in common makes no two names alike.
		bare := make([]string, len(names))
		for i, n := range names {
			bare[i] = strings.TrimPrefix(n, envPrefix+"_")
		}
		if near := seasonfile.Nearest(strings.TrimPrefix(name, envPrefix+"_"), bare); near != "" {
			text += "; perhaps " + envPrefix + "_" + near + " is meant"
		}
		out = append(out, text+".")
	}
	slices.Sort(out)
	return out
}

// settingsPath gives the settings file, and whether the user named it: one
// that was named has to be there.
func settingsPath(flags *pflag.FlagSet) (path string, named bool) {
	if f := flags.Lookup("settings"); f != nil && f.Changed {
		return f.Value.String(), true
	}
	if p := os.Getenv(envPrefix + "_SETTINGS"); p != "" {
		return p, true
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", false
	}
	return filepath.Join(dir, "primaprova", "settings.yaml"), false
}

// keep writes settings into the settings file: in the place of their lines, or after
// the last one. Where the file is laid out otherwise it stays as it is.
func (s *settings) keep(values map[string]string) error {
	path, _ := settingsPath(s.flags)
	if path == "" {
		return &trouble{code: exitInput, err: errors.New("there is no folder for a settings file"), next: "settings --help"}
	}
	raw, err := readSmall(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fileTrouble(err)
	}
	lines := strings.SplitAfter(string(raw), "\n")
	if last := len(lines) - 1; lines[last] == "" {
		lines = lines[:last]
	} else {
		lines[last] += "\n"
	}
	for _, name := range slices.Sorted(maps.Keys(values)) {
		line := fmt.Sprintf("%s: %s\n", name, strconv.Quote(values[name]))
		if i := slices.IndexFunc(lines, func(l string) bool { return strings.HasPrefix(l, name+":") }); i >= 0 {
			lines[i] = line
		} else {
			lines = append(lines, line)
		}
	}
	now := []byte(strings.Join(lines, ""))
	file, err := settingsIn(now)
	for name, value := range values {
		if err == nil && file.GetString(name) != value {
			err = errors.New("it is not laid out a line a setting")
		}
	}
	if err != nil {
		return &trouble{code: exitInput, err: fmt.Errorf("%s: nothing can be added to it: %w", path, err), next: "settings --help"}
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return cannotWrite(path, err)
	}
	if err := disk.Write(path, now, 0o644); err != nil {
		return cannotWrite(path, err)
	}
	return nil
}

// settingsIn reads what a settings file holds.
func settingsIn(raw []byte) (*viper.Viper, error) {
	file := viper.New()
	file.SetConfigType("yaml")
	return file, file.ReadConfig(bytes.NewReader(raw))
}

func (s *settings) readFile() (faults []string) {
	path, named := settingsPath(s.flags)
	if path == "" {
		return nil
	}
	raw, err := readSmall(path)
	if errors.Is(err, fs.ErrNotExist) && !named {
		return nil
	}
	if err != nil {
		return []string{fmt.Sprintf("%s: may not be read: %v", path, reason(err))}
	}
	file, err := settingsIn(raw)
	if err != nil {
		return []string{fmt.Sprintf("%s: %s", path, strings.ReplaceAll(err.Error(), "\n", " "))}
	}
	s.file = path
	var names []string
	for _, k := range known {
		names = append(names, k.name)
	}
	for _, key := range file.AllKeys() {
		if !slices.ContainsFunc(known, func(k setting) bool { return k.name == key }) {
			faults = append(faults, fmt.Sprintf("%s: %s: is no setting; the settings are %s", path, key, strings.Join(names, ", ")))
		}
	}
	slices.Sort(faults)
	const most = 20
	if more := len(faults) - most; more > 0 {
		faults = append(faults[:most], fmt.Sprintf("%s: and %d more like these", path, more))
	}
	if err := s.v.MergeConfigMap(file.AllSettings()); err != nil {
		faults = append(faults, fmt.Sprintf("%s: %v", path, err))
	}
	return faults
}
