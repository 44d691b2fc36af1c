package main

import (
	"errors"
	"net"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/net/netutil"

	"primaprova/io/feed"
	"primaprova/io/private"
	"primaprova/io/stand"
)

func standCommand(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:   "stand [SEASON]",
		Short: "today on the phone at the music stand, to tick off",
		Long: `Serves one page for the phone on the music stand, until it is stopped (Ctrl-C),
and prints its address, on a terminal as a code for the camera too: what is at
hand today, a timer, a metronome, and what is ticked off, which goes into the
record. After what matters the plan is made anew beside it, and the page says
what changed; numbers and sessions of a day that was shown stay.

The phone has to be in the same network. Once open, the page works without it:
what is tapped stays on the phone and goes over when it can. Have its display
stay on; the page can't do that over plain HTTP.

The address has a part that nobody can guess. It lies in season.stand, which its
owner alone may read, and stays the same; --another makes a new one, and the old
one leads nowhere from then on. Who has it can read the days and add to the
record, and nothing else. It goes unencrypted: that is for a network of your
own, at home, not for a hall's.

With --https it goes encrypted, and the page keeps the display on. That needs a
certificate of your own on the phone: the address that is printed then says how,
once for each phone. It can vouch for networks of your own alone.`,
		Args: atMost(1),
	}
	another := c.Flags().Bool("another", false, "make another address; the old one ends")
	https := c.Flags().Bool("https", false, "serve it encrypted, with a certificate of your own")
	addSettings(c, slices.Concat([]string{"stand"}, planSettings, localeSettings)...)
	c.RunE = func(c *cobra.Command, args []string) error {
		season := a.seasonName(args)
		d := newDesk(a.quiet(), season)
		if _, err := d.State(); err != nil { // said now; later, nobody watches
			return err
		}
		l, err := a.listen("stand", "stand", ":8348")
		if err != nil {
			return err
		}
		defer l.Close()
		path := standPath(season)
		key, err := a.secret(season, path, *another, "stand")
		if err != nil {
			return err
		}
		ctx, stop := interruptible(c.Context()) // before the address is known to anybody
		defer stop()
		d.watch(ctx)
		e := &entrance{a: a, season: season, key: key, hosts: addresses(l.Addr(), onOwnNetwork), listener: netutil.LimitListener(near{l}, mostAtOnce),
			current: func() (string, error) { return feed.Read(path) }}
		if *https {
			if err := e.encrypt(ctx); err != nil {
				return err
			}
		}
		e.say(path)
		return serve(ctx, e.listener, stand.New(e.current, d))
	}
	return c
}

// planSettings are those that the planning beside the page goes by.
var planSettings = []string{"engines", "seed", "budget", "tolerance", "gap", "limit", "today", "unrecorded", "learn"}

// mostAtOnce is how many connections are open at a time; others wait.
const mostAtOnce = 256

// standPath gives the file of the address's secret part: season.yaml has season.stand.
func standPath(season string) string {
	return beside(season, ".stand")
}

// secret gives the part of an address that nobody can guess, from its file.
func (a *app) secret(season, path string, another bool, command string) (key string, err error) {
	err = a.alone(season, func() (err error) { key, err = feed.Key(path, another); return err })
	switch {
	case errors.Is(err, private.ErrReadable):
		return "", wrong("%v; the address is to stay private: %s", err, private.CloseCommand(quoted(path))).then("%s %s --another", command, quoted(season))
	case err != nil && strings.HasSuffix(err.Error(), "holds no key"):
		return "", wrong("%v", err).then("%s %s --another", command, quoted(season))
	case err != nil:
		return "", fileTrouble(err)
	}
	return key, nil
}

// near hangs up on whoever asks from elsewhere than this machine and networks of one's own.
type near struct{ net.Listener }

func (n near) Accept() (net.Conn, error) {
	for {
		c, err := n.Listener.Accept()
		if err != nil || stand.Near(c.RemoteAddr()) {
			return c, err
		}
		_ = c.Close()
	}
}
