package main

import (
	"strings"

	"github.com/spf13/cobra"

	"primaprova/io/table"
)

func settingsCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "settings",
		Short: "every setting, its value and where that comes from",
		Long: `Prints every setting, the value that holds, and where it comes from.

A flag counts before an environment variable (PRIMAPROVA_ and the setting's
name in capitals), that before the settings file, that before the default. The
settings file is YAML, one line a setting, for example

    season: tide.yaml
    calendar: days

It is looked for as primaprova/settings.yaml in the user's configuration folder;
--settings FILE or PRIMAPROVA_SETTINGS names another.`,
		Args: atMost(0),
		RunE: func(*cobra.Command, []string) error {
			t := &table.Table{Columns: []table.Column{{Name: "setting"}, {Name: "value"}, {Name: "from", From: desk}, {Name: "what it is", Wraps: true, From: phone}}}
			for _, k := range known {
				t.Row(k.name, bare(a.set.get(k.name)), a.set.source(k.name), strings.ReplaceAll(k.help, "`", ""))
			}
			a.say.table(t)
			if a.set.file == "" {
				if path, _ := settingsPath(a.set.flags); path != "" {
					a.say.aside("No settings file; one would be read from %s.", path)
				}
			}
			return nil
		},
	}
	for _, k := range known {
		addSettings(c, k.name)
	}
	return c
}
