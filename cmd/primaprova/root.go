package main

import (
	"bufio"
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"primaprova/io/webcal"
)

// app is what the commands share.
type app struct {
	in    io.Reader
	typed *bufio.Scanner // of in, where questions are asked

	say *voice
	set *settings

	kept  *webcal.Store // of the season that is read to be planned
	trace tracing       // of the search for a plan
}

const about = `primaprova plans an orchestral player's work on the parts of a season, so that
each part is ready at its first rehearsal and no day asks too much of the body.

    primaprova new             writes season.yaml, a season file to start from
    primaprova check           says what is wrong in it, and where time is tight
    primaprova plan            fills the calendar
    primaprova show            says what to play today
    primaprova record          writes down what became of it; then plan again
    primaprova late            a part comes on another date: says what moves
    primaprova why             what keeps work from fitting, and what would help

Exit codes: 0 done; 1 a fault of the program or the machine; 2 the input is wrong;
3 the plan stands, but something is not read, or a passage not worked at at all
(setting left_out); 4 stopped before there was a plan to use.

The limits it plans with are yours and guidance only; it promises nothing about
health. Pain is a reason to stop, and to ask a physician or physiotherapist.`

func rootCommand(a *app) *cobra.Command {
	root := &cobra.Command{
		Use:           "primaprova",
		Short:         "plans the work on a season's parts",
		Long:          about,
		Version:       version,
		SilenceErrors: true,
		SilenceUsage:  true,
		PersistentPreRunE: func(c *cobra.Command, args []string) error {
			set, err := readSettings(c.Flags())
			if err != nil {
				return err
			}
			a.set = set
			for _, s := range set.strangers {
				a.say.aside("%s", s)
			}
			a.say.locale, a.say.given = set.locale(), given(c, args)
			a.say.formulas = set.get("formulas") == "kept"
			if w := set.number("width"); w > 0 {
				a.say.width = max(w, narrowest)
			}
			return nil
		},
	}
	root.SetIn(a.in)
	root.SetOut(a.say.out)
	root.SetErr(a.say.err)
	root.PersistentFlags().String("settings", "", "settings `file` in place of the user's own")
	root.PersistentFlags().BoolP("help", "h", false, "say how it is used")
	root.Flags().BoolP("version", "v", false, "say which version this is")
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetVersionTemplate(versionText())
	root.SetHelpCommand(&cobra.Command{Hidden: true})
	root.SetHelpTemplate("{{with (or .Long .Short)}}{{.}}\n\n{{end}}{{.UsageString}}")
	cobra.AddTemplateFunc("flags", func(f *pflag.FlagSet) string {
		return f.FlagUsagesWrapped(max(a.say.width, helpWidth))
	})
	root.SetUsageTemplate(usage)
	// --day-alarm is --day_alarm, as the setting is called.
	root.SetGlobalNormalizationFunc(func(_ *pflag.FlagSet, name string) pflag.NormalizedName {
		if slices.ContainsFunc(known, func(s setting) bool { return strings.ReplaceAll(s.name, "_", "-") == name }) {
			name = strings.ReplaceAll(name, "-", "_")
		}
		return pflag.NormalizedName(name)
	})
	root.SetFlagErrorFunc(func(c *cobra.Command, err error) error {
		return wrong("%s", flagWords(c, err)).then("%s --help", below(c))
	})
	help := root.HelpFunc()
	root.SetHelpFunc(func(c *cobra.Command, args []string) {
		if words := c.Flags().Args(); c == root && len(words) > 0 {
			a.say.broken = wrong("%q is no command of primaprova", words[0]).then("--help")
			return
		}
		help(c, args)
	})
	root.AddCommand(newCommand(a), addCommand(a), checkCommand(a), planCommand(a), showCommand(a), exportCommand(a), publishCommand(a), serveCommand(a), standCommand(a), recordCommand(a), lateCommand(a), whyCommand(a), pinCommand(a), settingsCommand(a))
	for _, c := range root.Commands() {
		if check := c.Args; check != nil {
			c.Args = func(c *cobra.Command, args []string) error {
				if err := check(c, args); err != nil {
					return wrong("%s: %v", c.CommandPath(), err).then("%s --help", below(c))
				}
				return nil
			}
		}
	}
	root.Args = func(_ *cobra.Command, args []string) error {
		if len(args) > 0 {
			return wrong("%q is no command of primaprova", args[0]).then("--help")
		}
		return nil
	}
	root.RunE = func(c *cobra.Command, _ []string) error { return c.Help() }
	a.completes(root)
	if papers != nil {
		papers(root)
	}
	return root
}

// given adds to a hint the season and the settings that were given, as far as the
// command that it names takes them and it does not say them itself: followed, it works
// on what this command worked on.
func given(c *cobra.Command, args []string) func(hint string) string {
	return func(hint string) string {
		to, _, err := c.Root().Find(strings.Fields(hint))
		if err != nil || strings.Contains(hint, "--help") {
			return hint
		}
		if at := slices.IndexFunc(args, isSeason); at >= 0 && to.Name() == "show" && !strings.Contains(hint+" ", " "+quoted(args[at])+" ") {
			hint += " " + quoted(args[at])
		}
		for _, k := range append([]setting{{name: "settings"}}, known...) {
			if k.name == "width" || k.name == "limit" && to.Name() != c.Name() {
				continue // how it looks, and how long another command may take, is no part of it
			}
			f := c.Flag(k.name)
			if f != nil && f.Changed && to.Flag(k.name) != nil && !strings.Contains(hint+" ", "--"+k.name+" ") {
				hint += " --" + k.name + " " + quoted(f.Value.String())
			}
		}
		return hint
	}
}

var badValue = regexp.MustCompile(`^invalid argument "(.*)" for "(?:-\w, )?(--[\w-]+)" flag: `)

// flagWords says what is wrong with a flag in the words of who wrote it.
func flagWords(c *cobra.Command, err error) string {
	m := badValue.FindStringSubmatch(err.Error())
	if m == nil {
		return fmt.Sprintf("%s: %v", c.CommandPath(), err)
	}
	what := "is not what it takes"
	if f := c.Flags().Lookup(strings.TrimPrefix(m[2], "--")); f != nil {
		switch f.Value.Type() {
		case "int":
			what = "is not a whole number"
		case "bool":
			what = "is not true or false"
		}
	}
	return fmt.Sprintf("%s: %q %s", m[2], m[1], what)
}

// papers adds a command where man pages and completions are made (papers.go).
var papers func(*cobra.Command)

// atMost refuses more arguments than a command has a use for.
func atMost(n int) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) > n {
			return fmt.Errorf("there is no use for %s", strings.Join(args[n:], " "))
		}
		return nil
	}
}

// below gives a command's words after the program's name.
func below(c *cobra.Command) string {
	return strings.TrimPrefix(strings.TrimPrefix(c.CommandPath(), "primaprova"), " ")
}

const helpWidth = 80 // the texts of the commands are written for it

const usage = `{{if .Runnable}}usage: {{.UseLine}}
{{end}}{{if .HasAvailableSubCommands}}
commands:{{range .Commands}}{{if .IsAvailableCommand}}
  {{rpad .Name 10}} {{.Short}}{{end}}{{end}}
{{end}}{{if .HasAvailableLocalFlags}}
flags:
{{flags .LocalFlags | trimTrailingWhitespaces}}
{{end}}{{if .HasAvailableSubCommands}}
More on a command: {{.CommandPath}} COMMAND --help
{{end}}`
