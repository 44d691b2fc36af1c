// Package solver turns a season into an integer program and fills the calendar.
// It and the packages below it hold everything that chooses days. What a rule is and
// whether a plan keeps it is model's to say: every plan passes model's audit before
// anyone sees it. The engines' packages know no music, and nothing here reads or
// writes a file. solver itself is the driver: which part is asked when.
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
// compact states this in full, as a definition to check against and as MPS for
// other solvers. The rest solves it in another form.
//
// # The method
//
// A block is a whole part: a frame and a schedule for each passage. Few rows link
// blocks (colgen.Linking): a day's minutes, listening and visits, the strain, a row
// for each wish that must not rise. So the season is solved by column generation
// with dual bounds, and large neighbourhood search; the wishes in their order, each
// minimised while those before it are held (the ε-constraint method).
//
//	x := greedy, or the standing plan with what still fits        // construct
//	side by side:                                                 // lns, spreads of large new seasons
//	    f := fix one frame for each part in a restricted master   //   sequential rounding
//	    search frames near f by their reduced costs               //   local search, others ejected
//	    perturb f, search again, recombine with what it was       //   iterated local search
//	for each wish in order:                                       // wish by wish
//	    side by side:
//	        anneal x towards the wish, those before it held       // construct
//	        bound it by the master's duals                        // bound
//	    over a standing plan: fill in, repair                     // lns
//	if the season is small: solve the compact program; done       // compact
//	side by side:
//	    branch on frames in subproblems: bounds of body, then of body and spacing together
//	    dive: fractional passages of f made whole, a few at a time, the rest priced again
//	    fill in what lacks visits, repair what is late
//	    if the season is not large: better ready-by in strips of the compact program, solve it for each wish up to body
//	    repeat: over passages, then over strips of days:          // lns.Sweep
//	        free a neighbourhood, fix the rest, solve the sub-MIP over its columns
//	        take it if better; weigh body more while above its limit
//	x := best plan found by the order of the wishes with their tolerances
//	assemble, audit, give hours (hours), audit again
//
// The data's way, each arrow an import, none going up:
//
//	solver ──► lns ─────► construct ──► pricing ──► instance ──► run
//	   │         └──────► colgen ───────► ▲             ▲
//	   ├─────► bound ───────► ▲                         │
//	   ├─────► compact ──► construct, instance          │
//	   └─────► hours (days of a finished plan)          │
//	conflict ──► oracle ──► construct, compact ─────────┘
//	   └───────► colgen (prices of days)
//
// Nothing is folded into one number on the way to a verdict: a move, a frame or a
// sub-MIP may be proposed by weights (instance.WeightedSum), but limits on the wishes
// before the goal decide, and of all plans found the order (Score.Better). A limit is
// what is reached, or what is proven to be the least and the tolerance on top of it.
// What is proven holds under limits, and is said of no plan above them (Bounds): a
// plan below what is proven of it is an internal error.
//
// Same season, same settings, same seed: same plan. Budgets count moves, rounds and
// iterations; nothing looks at a clock, and what runs side by side is joined before
// either's result is used, or kept in the order in which it was begun (lns.queue).
//
// # Glossary
//
// The field's word, what it is here, and where to read about it. Looked up, but for those
// marked (m), which are from memory.
//
//	column generation, restricted   colgen.Master, with the blocks' plans found so far as columns;
//	master, convexity row           one row for each block. Lübbecke, Desrosiers, Selected Topics in Column
//	                                Generation, Operations Research (revision of October 2004)
//	reduced cost, pricing           what a plan costs at the duals (pricing.Duals), less its block's own dual. As above
//	Lagrangian (dual) bound         the duals' constant and each block's cheapest plan, summed. As above
//	labelling, dynamic program      pricing.DP, over visits and days, for all frames. Desaulniers, Desrosiers,
//	                                Solomon (eds.), Column Generation, Springer 2005 (m)
//	Lagrangian decomposition        bound.decomposition: clusters of parts, each with a copy of the others' minutes,
//	(cost splitting), block         priced. Letocart, Touati-Moungla, Nagih, hal-00595996 (2011)
//	branch and bound, pseudo-costs, bound.tree over boxes of frames; candidates tried first, then by what they brought.
//	reliability                     Achterberg, Koch, Martin, Operations Research Letters 33, 42-54 (2005)
//	ε-constraint, weighted sum      instance.Constrained, WeightedSum. Haimes, Lasdon, Wismer, IEEE Trans. SMC 1 (1971) (m)
//	cheapest insertion, greedy      construct.Inserter, Greedy: common practice, no source
//	simulated annealing             construct.Annealer. Kirkpatrick, Gelatt, Vecchi, Science 220, 671-680 (1983)
//	diving heuristic                lns.diveIn: fix the heaviest columns, price again. Sadykov, Vanderbeck, Pessoa,
//	                                Tahiri, Uchoa, INFORMS Journal on Computing 31, 251-267 (2019)
//	large neighbourhood search,     lns: destroy = what a neighbourhood frees, repair = its sub-MIP (fix-and-optimise).
//	destroy and repair, sub-MIP     Pisinger, Røpke, in Handbook of Metaheuristics, 399-420 (Springer 2010)
//	iterated local search,          lns.perturb kicks frames, frameSearch leads back; only what is better stays.
//	perturbation, kick              Lourenço, Martin, Stützle, in Handbook of Metaheuristics, 321-353 (Kluwer 2003)
//	recombination, path relinking   lns.recombine: programmes' frames of one plan taken into another where that costs
//	                                less. Resende, Ribeiro, Glover, Martí, in Handbook of Metaheuristics (Springer 2010)
//	ejection                        lns.eject: others' listening and recordings give way to a frame. Glover (ejection
//	                                chains), Discrete Applied Mathematics 65 (1996) (m)
//	fractional solution             lns.Fractional: frames whole, passages spread over weighed schedules
//	compact formulation             compact.Program, against the columns' extended one. Lübbecke, Desrosiers, as above
//	demand test, earliest due date  oracle: what must lie in a stretch against its room; Jackson's rule. Their files
//	irreducible infeasible subset,  conflict.Reason, by a deletion filter over facts. Guieu, Chinneck,
//	minimal unsatisfiable subset    INFORMS Journal on Computing 11, 63-77 (1999)
//	minimal correction set          conflict.Offer: a correction with a plan, not only dropped facts. Marques-Silva,
//	                                Heras and others, On Computing Minimal Correction Subsets
//
// Words of the model (visit, passage, frame, room, wish) are the player's, and stand in DEVELOPERS.md.
// In comments a plan walks where its frames are searched, is spread where it is fractional, and a window is
// the sub-MIP of a neighbourhood; a strip is one of days.
package solver
