// Package solver turns a season into an integer program and fills the calendar.
// Here stands everything that chooses days: one function per rule and per wish
// of the program, the pricing recursion, bounds, and solving again. What a rule
// is and whether a plan keeps it is model's to say: every plan passes model's
// audit before anyone sees it. The engines' packages below know no music, and
// nothing here reads or writes a file.
//
// # The program
//
// A part w may be worked at from the day it arrives to the day before its
// first rehearsal. Its frame is the day λ of the listening, the day ρ of the
// read-through, the day τ of the return to the recordings, and φ, the last day
// of its first round. A passage i of w has a recipe of minutes m(i,1..K). The
// 0/1 variable x(i,k,d) says that visit k of passage i lies on day d.
//
// Hard rules, with r(d) the room that cap, services and warm-up leave:
//
//	cap       Σ m(i,k)·x(i,k,d) + Σ read-throughs on d ≤ r(d); 0 on rest days
//	window    x(i,k,d) only for arrival ≤ d < first rehearsal, or own due date
//	order     λ ≤ ρ < day of visit 1 < … < day of visit K;  ρ < τ
//	gap       day of visit k+1 ≥ day of visit k + gap(k)
//	all once  day of visit 1 ≤ φ < day of visit 3, for all passages of w
//	day       so many visits, so much listening, and what the hours hold
//	new       no visit 1 on the day of a concert
//	past      what the record says was done is done
//
// Anything may be left out from its end on: the last visits of a passage, the
// passage, the read-through with all that follows it, the listening.
//
// Wishes, in this order, each with a tolerance (model.Tolerance): coverage, ready-by, closeness, body, spacing
// (model.Wish says what each counts). Only body couples parts; it is convex and
// piecewise linear in the days' loads (model.Strain).
//
// written*.go states this in full, as a definition to check against and as MPS
// for other solvers. The rest of the package solves it in another form.
//
// # The method
//
// One column is a whole part: a frame and a schedule for each passage. Few rows
// couple columns (coupling): a day's minutes, listening and visits, the strain,
// a row for each wish that must not rise.
//
//   - greedy: parts by first rehearsal, each passage where it costs least beside
//     what is there: a plan within milliseconds. A standing plan takes its place
//     when solving again (standing).
//   - pricing: with prices on minutes and visits a passage's best schedule is a
//     recursion over visits and days (recursion), at once for all frames of its part
//     whose first round ends on a day or within a run of days; the runs are halved
//     until the best frame is known (pricing_frame, frame).
//   - master: the linear program over the part plans found so far, for one wish
//     at a time, the wishes before it held by rows. Σ over parts of the cheapest
//     plan, over all frames, plus the rows' constants is a bound on the whole
//     program at any prices (tariff); master and pricing close on it.
//   - moves: a few passages, or a part's frame, are taken out and put back where
//     they cost least, kept by annealing (improve, nudge). They run beside the
//     master, one wish after the other (search).
//   - frames: beside the moves a master weighs body against spacing and mixes frames
//     (mixture); one part after the other is held to one, in a master of those close
//     to it (settle); then frames walk while passages are spread over schedules as
//     the linear program spreads them, so that whole schedules don't hide what a
//     frame is worth (spread, walk, step); others' listening and recordings give way
//     to a frame that is tried (giveWay). Where a walk ends most frames are thrown about in a copy, which walks
//     anew, and what came out better there is grafted onto the plan, a few
//     programmes at a time (stir, graft): each stretch of the season once, and a few
//     times more where that brings most, unless the frames had their share of work.
//   - dive: what is spread is made whole step by step; windows that count one wish
//     before all win back what that squeezed out or made late (repair); only where
//     that fails do moves bring it under the limits (dive, deepen).
//   - what is lacking: over a standing plan, and after a dive, the frames around a
//     part that lacks visits or has them late walk, their passages spread, and what
//     comes of that is made whole (lack).
//   - windows: some sixty passages free, the rest fixed, an integer program over
//     their priced columns; then all visits of some weeks, which stay in these weeks
//     while those before and after stay on their days (piece). Body weighs against
//     spacing, so that what one window saves another may spend, and is brought near
//     its limit, the tolerance above what such a plan takes at least (window,
//     windows). They roll over stretches of the season side by side (roll). After two
//     times through it what is still out or late is repaired once more, since days are
//     emptier then.
//   - proofs: beside all that, from when frames are looked for, a bound of body, from
//     which its limit follows, then one of body and spacing together as windows trade
//     them, which says of a plan what its spacing is not below at its body (proofs).
//     Between the two what is still out or late is bounded once more, under what the
//     plan has come to in what counts before it.
//     What mixed frames hide of them is branched over: a tree over boxes of frames
//     (branch, box) for each cluster of programmes; clusters see each other through
//     prices alone (division, cluster), so that what their trees prove adds up (forest).
//   - a small season's written-out program is solved outright at the end.
//   - hours: in seasons that give any, each day's sessions are laid out by a
//     constraint program of its own (day), by the wishes of model.DayCost.
//
// The wishes are never folded into one number on the way to a verdict: a move,
// a frame or a window may be proposed by weights, but limits on the wishes before
// the goal decide, and of all plans found the order (score.better). A limit is what
// is reached, or what is proven to be the least and the tolerance on top of it. What
// is proven holds under limits, and is said of no plan above them (bounds): a plan
// below what is proven of it is an internal error.
//
// Same season, same settings, same seed: same plan. Budgets count moves, rounds
// and iterations; nothing looks at a clock, and what runs side by side is
// joined before either's result is used.
package solver
