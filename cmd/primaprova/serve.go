package main

import (
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"os"
	"slices"
	"sync"
	"syscall"
	"time"

	"github.com/spf13/cobra"

	"primaprova/io/feed"
)

func serveCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "serve [SEASON]",
		Short: "lets calendars subscribe to the plan",
		Long: `Serves the plan that stands as a calendar to subscribe to, until it is stopped
(Ctrl-C), and prints the address. The plan is read again each time a calendar
asks, so plan while it runs; calendars that have the newest are told so.

The address has a part that nobody can guess. It lies in season.feed, which its
owner alone may read, and stays the same; --another makes a new one, and the old
one leads nowhere from then on, also at a serve that runs already.

It is served to this machine alone unless the setting listen says otherwise. To
others it goes unencrypted: that is for a network you trust, or for a server in
front of it that speaks https.`,
		Args: atMost(1),
	}
	another := c.Flags().Bool("another", false, "make another address; the old one ends")
	addSettings(c, slices.Concat([]string{"listen"}, calendarSettings, localeSettings)...)
	c.RunE = func(_ *cobra.Command, args []string) error {
		season := a.seasonName(args)
		// Faults are said now; later, nobody watches.
		if _, err := a.served(season); err != nil {
			return err
		}
		// Nothing is made that is not served: first the place, then the address.
		l, err := a.listen("serve", "listen", "127.0.0.1:8347")
		if err != nil {
			return err
		}
		defer l.Close()
		path := feedPath(season)
		key, err := a.secret(season, path, *another, "serve")
		if err != nil {
			return err
		}
		ctx, stop := interruptible(c.Context()) // before the address is known to anybody
		defer stop()
		quiet := a.quiet()
		h := feed.New(func() (string, error) { return feed.Read(path) }, feedName, a.watched(func() ([]byte, error) { return quiet.served(season) }))
		if at, ok := l.Addr().(*net.TCPAddr); ok && !at.IP.IsLoopback() {
			a.say.aside("Others on the network can ask for it, and it goes unencrypted.")
		}
		host := addresses(l.Addr(), anywhere)[0]
		if os.Getenv("JOURNAL_STREAM") != "" { // systemd keeps what is printed, for others to read
			a.say.aside("Serving at %s; the secret part of the address stands in %s.", host, path)
		} else {
			a.say.result("http://" + host + "/" + key + "/" + feedName + "\n")
		}
		a.say.aside("Calendars can subscribe to this address while this runs. Ctrl-C ends it.")
		return serve(ctx, l, h)
	}
	return c
}

// listen opens the address and port of a setting for a command that serves there.
func (a *app) listen(command, setting, like string) (net.Listener, error) {
	at := a.set.get(setting)
	l, err := net.Listen("tcp", at)
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, wrong("%s: %q: is in use, perhaps by a %s that runs; end that one first", a.set.named(setting), at, command)
	}
	if err != nil {
		return nil, wrong("%s: %q: is no address and port of this machine, like %s", a.set.named(setting), at, like).then("%s --help", command)
	}
	return l, nil
}

// quiet is a command within one that serves: nobody watches, so it says nothing.
func (a *app) quiet() *app {
	quiet := &app{say: newVoice(io.Discard, io.Discard), set: a.set}
	quiet.say.locale = a.say.locale
	return quiet
}

// served is the calendar of the plan that stands.
func (a *app) served(season string) ([]byte, error) {
	_, p, h, err := a.planned(season)
	if err != nil {
		return nil, err
	}
	return a.calendar(h, p, &narrowing{})
}

const feedName = "season.ics"

// watched says to whoever runs the server when the calendar can't be given, and
// when it can again; each time once.
func (a *app) watched(render func() ([]byte, error)) func() ([]byte, error) {
	var mu sync.Mutex
	said := ""
	return func() ([]byte, error) {
		b, err := render()
		mu.Lock()
		defer mu.Unlock()
		now := ""
		if err != nil {
			now = err.Error()
		}
		switch {
		case now == said:
		case now == "":
			a.say.aside("Served again.")
		default:
			a.say.aside("Cannot be served until this is mended:\n%s", now)
		}
		said = now
		return b, err
	}
}

// ending is how long answers under way may take once it is to stop.
const ending = 5 * time.Second

// serve answers until the context ends, and then lets answers under way finish.
func serve(ctx context.Context, l net.Listener, h http.Handler) error {
	s := &http.Server{Handler: h, ReadTimeout: 10 * time.Second, WriteTimeout: time.Minute, IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10}
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(l) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	late, cancel := context.WithTimeout(context.Background(), ending)
	defer cancel()
	if err := s.Shutdown(late); err != nil {
		return s.Close()
	}
	return nil
}

// feedPath gives the file of the address's secret part: season.yaml has
// season.feed.
func feedPath(season string) string {
	return beside(season, ".feed")
}
