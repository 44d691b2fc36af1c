// Pack fetches the pinned wheel of OR-Tools with pip, checks its sha256, and writes what
// the program and its tests use: the bundles that a build with the tag engines embeds,
// and the libraries unpacked for the tests. Whatever is there already and right is left.
//
//	go run ./solver/ortools/pack [-for GOOS/GOARCH] [-engines FOLDER] [-python python3]
//
// It works in the module's root: wheels go to .deps/wheels, libraries to .deps/engines (of
// the machine's own platform) or to a folder that is named, bundles to solver/ortools/bundle.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/signal"
	"path/filepath"
	"strings"

	"primaprova/solver/ortools"
)

func main() {
	platform := flag.String("for", ortools.ThisPlatform, "the `platform` to make bundles for")
	engines := flag.String("engines", "", "the `folder` to unpack the libraries into (default .deps/engines for the machine's own platform, none for others)")
	python := flag.String("python", "python3", "the Python `program` whose pip fetches the wheel")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	err := run(ctx, *platform, *engines, *python)
	stop()
	if err != nil {
		fmt.Fprintln(os.Stderr, "pack:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, platform, engines, python string) error {
	pin, err := ortools.PinFor(platform)
	if err != nil {
		return err
	}
	if _, err := os.Stat("go.mod"); err != nil {
		return fmt.Errorf("run this in the root of the module: %w", err)
	}
	dir := filepath.Join("solver", "ortools", "bundle", strings.ReplaceAll(platform, "/", "-"))
	if !upToDate(dir, pin) {
		wheel, err := fetch(ctx, pin, python)
		if err != nil {
			return err
		}
		if err := writeBundles(wheel, dir, pin); err != nil {
			return err
		}
		fmt.Fprintf(os.Stderr, "pack: OR-Tools %s for %s: bundles written to %s\n", ortools.Release, platform, dir)
	}
	if engines == "" && platform == ortools.ThisPlatform {
		engines = filepath.Join(".deps", "engines")
	}
	if engines == "" {
		return nil
	}
	for _, name := range bundleNames {
		if err := (ortools.Bundle{Files: os.DirFS(dir), Name: name}).Ensure(ctx, engines); err != nil {
			return err
		}
	}
	return nil
}
