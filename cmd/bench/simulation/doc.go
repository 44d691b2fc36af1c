// Package simulation lives invented seasons through, day by day, as a player
// would: sessions take other minutes than estimated, days are lost, checks do
// not hold, passages are found at the read-through. It compares ways to decide
// what to do on a day. Everything that happens hangs on the seed and on what it
// happens to, never on the way, so that all ways meet the same luck.
//
// What follows was written down before the first run that it speaks of, and
// did not change after.
//
// # What ready means
//
// A part is ready when on the eve of its first rehearsal it has been read
// through, each of its passages has had every visit that its recipe asked for
// at the time, and its last check held: visits that came back after a check that
// did not hold count as asked for, and so do passages found since. There is no
// allowance for a check that is missing and none for one that lies far back.
//
// That is the player's own book-keeping. What the conductor hears is whether
// the passages hold in the rehearsal itself, so a second figure stands beside
// it and counts as much: the share of passages that hold when they are played
// at the first rehearsal, each with the chance that memory leaves it (below).
// It knows no threshold and no recipe; a passage never worked at has none.
//
// Beside these: the share of the value of all sessions that was done, passages
// never touched, days above the cap, and the body wish of what was really
// played, since a way that fills each day buys what it reaches with that.
//
// # The world
//
// Common practice, no source: a session takes a tenth longer than its estimate
// on average, lognormal, a spread of 0.3; one day in fifty begins a spell of one
// to three lost days; one read-through in three or so finds passages that nobody
// had marked. A session is begun when its estimate fits into what is left of the
// day's cap, and then goes on to its end: days may end above the cap.
//
// Whether a passage holds is memory's matter. There are two worlds that differ
// in that alone, since nobody knows which of them is a player's.
//
// The first forgets like words. Source: Pavlik and Anderson,
// Cognitive Science 29, 559-586 (2005), form and parameters from memory: each
// visit leaves a trace of strength b·t^−d after a time t, in seconds of which
// only a share h = 0.025 count between sessions; d = c·exp(m) + a grows with the
// activation m = ln Σ b·t^−d that is there when the visit is made, so that visits
// crowded together fade sooner; what is tried holds with the chance
// 1/(1+exp((τ−m)/s)); a = 0.177, c = 0.217, τ = −0.704, s = 0.255. A visit is many
// trials and has b = 4 of their traces: with it a check at the least gaps of the
// ordinary recipe fails once in thirteen, which is common practice, no source.
// The model is one of words learnt, not of fingers. It agrees with what
// is asked of it here: wider gaps cost a little at the check and pay after some
// weeks (Cepeda et al., Psychological Science 19, 1095-1102, 2008).
//
// The second remembers like hands (-world motor). A passage's skill is a gain
// between 0 and 1. Each visit closes the same share of what is still open (an
// exponential law of practice: Heathcote, Brown, Mewhort, Psychonomic Bulletin &
// Review 7, 185-207, 2000, from memory), and between visits it decays by halves:
// of procedural skills with motor parts half of what training gained is lost
// after 6.5 months where accuracy is asked and 13 where speed is (Tatel and
// Ackerman, Psychological Bulletin, 2025, doi 10.1037/bul0000481), so each passage
// has a half-life of its own between 195 and 395 days, even in its logarithm.
// It holds at tempo when the gain passes what this passage needs, with the chance
// 1/(1+exp((need−gain)/0.03)), as one day is better than another: a
// threshold can fail though the mean hardly decays. The need is normal
// between passages, mean 0.675, standard deviation 0.06, the same for a passage all
// season: one that fails is likely to fail again until it was worked at more. How many
// visits a passage was given the player chose by what it is: before its check
// they close four fifths of the gap. These figures have no source but this:
// with them a check at the least gaps of the ordinary recipe fails once in
// thirteen, as in the first world; the spread of needs and of days is about
// equal.
//
// # The ways
//
//   - The first plan, blindly (blind): solved once before the season, then followed.
//   - Earliest due first (due): each day it does, of what the rules allow that day,
//     what is due first, then the stage and the visit that come first, as long
//     as the day has room. It knows everything that has happened, and goes on
//     with the next thing when a session was shorter than thought.
//   - Planned again (again): in the morning after a day on which something went
//     otherwise than planned. Between two plannings the plan is followed, and on
//     a day that has room left nothing is added.
//   - Planned again, parts kept whole (whole): the same with the habit whole_parts, by which as
//     few parts as possible give way where days are short. The worth that is missed is
//     counted by the ordinary values in all ways. Tried on seeds 101 to 106; reported
//     on 201 to 216.
//   - Planned again, what can wait least first (urgent): the same plans, but each day goes by
//     its dispatch list (model.Dispatch): what the plan has on it and what comes
//     forward, in the order of the last day on which it could lie. What comes forward
//     is begun only where a quarter more than its minutes is left. Tried on seeds
//     101 to 116; to be reported on 401 on, as many as the machine has time for.
//   - The same, but only on days on which the day sheet points to the list (told; Dispatch.Pressing).
//     Tried on seeds 101 to 108; to be reported on 601 to 616, with plans only fitted in,
//     and by the engine on 701 to 716, in both worlds, 0.01 of the ordinary work.
//
// All record everything and use what the record teaches of the estimates. All
// have the program's defaults for everything.
//
// # Chances held against it
//
// What model/chance says of a part is held against what came of it: Live keeps,
// of a season that is lived through and planned again, each seventh morning's
// record and plan; Chances gives what was then said. Held against each other are
// only chances of parts of which the plan of that morning leaves nothing out, since
// those of others are chances of the rest. The reported run has seeds from 301 on,
// loads 0.5 and 0.7, 0.01 of the ordinary work, 400 plays a morning.
//
// # Which seasons
//
// Ten weeks, four programmes of three parts, some eighty passages, recipes of
// the player's own; parts come four to five weeks ahead. The work asks for 0.3,
// 0.5, 0.7 or 0.85 of the room in the tightest stretch of days; as sessions run
// long, days are lost and checks come back, that is some 0.36, 0.6, 0.85 and
// more than there is. Seeds 1 to 8 are reported. Whatever was tried out was
// tried on seeds from 101 on.
package simulation
