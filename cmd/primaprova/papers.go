//go:build papers

package main

import (
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// A build with the tag papers has one command more, which writes what goes with a release:
// man pages and completions, made from the commands themselves.
//
//	go run -tags papers ./cmd/primaprova papers FOLDER YYYY-MM-DD
func init() {
	papers = func(root *cobra.Command) {
		root.AddCommand(&cobra.Command{Use: "papers FOLDER DATE", Hidden: true, Args: cobra.ExactArgs(2), RunE: func(c *cobra.Command, args []string) error {
			date, err := time.Parse(time.DateOnly, args[1])
			if err != nil {
				return err
			}
			man, words := filepath.Join(args[0], "man"), filepath.Join(args[0], "completions")
			for _, dir := range []string{man, words} {
				if err := os.MkdirAll(dir, 0o755); err != nil {
					return err
				}
			}
			root := c.Root()
			root.DisableAutoGenTag = true
			head := doc.GenManHeader{Title: "PRIMAPROVA", Section: "1", Date: &date, Source: "primaprova " + version, Manual: "primaprova"}
			if err := doc.GenManTree(root, &head, man); err != nil {
				return err
			}
			for name, write := range map[string]func(string) error{
				"primaprova.bash": func(f string) error { return root.GenBashCompletionFileV2(f, true) },
				"_primaprova":     root.GenZshCompletionFile,
				"primaprova.fish": func(f string) error { return root.GenFishCompletionFile(f, true) },
				"primaprova.ps1":  root.GenPowerShellCompletionFileWithDesc,
			} {
				if err := write(filepath.Join(words, name)); err != nil {
					return err
				}
			}
			return nil
		}})
	}
}
