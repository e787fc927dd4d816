/** Words of the help. Every example runs as it stands from the top folder of the checkout. */
export const HELP = {
  program: {
    about: "Seats a saddle tree's bars on a horse's back and says where they bear, how hard, and why.",
    after: `
Begin with:
  barwright fit examples/wren.pattern.json examples/dumpling.back.json

Results: one JSON document on stdout (lengths mm, pressures kPa, forces N); for reading, a table on stderr.
Exit: 0 done, 1 not settled or a --require condition not met, 2 bad usage or input, 3 internal.
It compares shapes. It doesn't examine a horse, and gives no permission to ride.`,
  },
  fit: {
    about: 'Seat a tree on a back: gap map, contact, pressure, findings and their causes.',
    after: `
Example: does Wren bridge on Dumpling when it is made 24 3/4 in long, under a rider of 104 kg?
  barwright fit examples/wren.pattern.json examples/dumpling.back.json \\
    --set "length=24 3/4 in" --set setup.load.riderKg=104 --require "bridging<3" --map wren.svg

Values of --set: any value of the pattern (length, slopeFront, rockRadius, left.slopeFront ...), or of the setup after
"setup." (setup.load.riderKg, setup.setPositionMm, setup.layers.pad.thicknessMm ...). Units and fractions are read:
"24 3/4 in", "230 lb"; expressions over other values too: "length=seatLength + 6 1/2 in".

A bench that the page saved whole (*.bench.json) stands alone, its setup with it: barwright fit mine.bench.json

Conditions of --require: NAME OP NUMBER, OP one of < <= > >= = !=. NAME is a figure of the result
(contact.p95PressureKPa, contact.shareMiddle, mismatch.lengthwiseLeftMm ...), status (status=settled), or the code of a
finding (bridging, rocking, pressure-point ...), which stands for its largest size, 0 where there is none.
Numbers may carry a unit: "contact.peakPressureKPa <= 4 psi". A figure without data never meets a condition.`,
  },
  measure: {
    about: 'Measure angle, slope, spread, twist, rock, crown and flare from a pattern or a mesh of bars.',
    after: `
Example:
  barwright measure examples/post.pattern.json

Of a mesh, say which way it lies: --axes -x,-y,+z --unit in. The stations count from the foremost tip edge.`,
  },
  sweep: {
    about: 'Step one or two values through a range and tabulate how the fit changes.',
    after: `
Example: how does Wren's length change its fit on Dumpling?
  barwright sweep examples/wren.pattern.json examples/dumpling.back.json --vary length=500:640:20

Keys as for fit --set (setup.setPositionMm=-60:0:10 too); from, to and step may carry units: "length=20 in:25 in:1/2 in".
Values written as expressions follow the one that is stepped. Compare p95, peak and thirds, not area or mean alone.`,
  },
  reach: {
    about: 'Map how far a tree stretches: which finding comes first on backs steeper, flatter, more or less curved.',
    after: `
Example: where around Heron has Post no finding?
  barwright reach examples/post.pattern.json examples/heron.back.json --map post-reach.svg

The measured back lies in the middle, with an ellipse that holds 95 of 100 repeats of its measuring. Figures are the
worst finding in times its rule; 1 is where it begins. A strip shows the same over set positions 60 mm either way.
A place without findings is not a verdict. Exit 1: the tree gave no result on the back as measured.`,
  },
  sure: {
    about: "Say how sure the figures are: bands from measuring error and set position, and what can't be told.",
    after: `
Example: what of Post on Tuesday do these measurements settle?
  barwright sure examples/post.pattern.json examples/tuesday.back.json --draws 200 --seed 1

Draws horses that the measurements could have come from, by the uncertainty that the back's document states, and set
positions within setup.rules.setPositionBandMm; the same seed gives the same figures. A finding that more than 5 and
fewer than 95 of 100 drawn horses show reads "can't tell from these measurements".
Exit 1: no bands, because the tree did not settle on the back as measured.`,
  },
  compare: {
    about: 'Compare two to six fits: what differs going in, what differs coming out, which findings come, go and grow.',
    after: `
Example: Post beside Wren on Tuesday
  barwright compare examples/wren.pattern.json examples/post.pattern.json examples/tuesday.back.json

The first file is what the others are held against. One pattern with several backs works too, and so do results that
fit wrote with --out; these hold figures and the names of files, not what --set changed. Load, layers and set position
are the same for all (--setup, --set), and so are scale and colours of the maps. Nothing is ranked: where area rises and
the mean falls while the 95th percentile rises, it says so. Findings closer than 0.5 mm count as the same.
Exit 1: one of the fits did not settle.`,
  },
  changes: {
    about: 'Compare two backs of one horse: what changed, and what measuring twice cannot show.',
    after: `
Example: does the scan of Tuesday show another back than the sections taken two days before?
  barwright changes examples/tuesday.back.json examples/tuesday-scan.back.json --map tuesday-change.svg

The two are laid together twice: by their landmarks, and where they agree best, so that a part that changed pulls
nothing after it. A sixth of the back is called fuller or lower only where both ways show more than the error that both
documents state. Neither says why a back changed, or whether that is good for the horse.
Exit 1: the two may not be one horse (lengths between bones, names in the records, shapes that no small motion joins).
Coordinates of --changed: mm behind the blade edge, mm across with + to the horse's right: --changed=0,200,-200,0`,
  },
  shoulder: {
    about: 'Carry the shoulder blades through a stride: what the front tips do at every moment, and standing.',
    after: `
Example: Post on Tuesday over a stride, and the same with the saddle crept an inch forward
  barwright shoulder examples/post.pattern.json examples/tuesday.back.json --creep 25

Which flare would leave 5 mm at every moment, and what does it cost in bearing surface?
  barwright shoulder examples/post.pattern.json examples/tuesday.back.json --clear 5 --zones 55,75,95

Lengths are mm, or carry their unit: --swing "2 1/4 in". A back that says nothing of its blades gets an average horse's,
and the result says so. The horse stands as it was measured; legs forward in a setup count for nothing here.
--clear takes some seconds for each zone.
Conditions of --require: as for fit, over figures of this result: worst.leastGapMm, worst.highestPressureKPa,
standing.contact.p95PressureKPa, crept.worst.leastGapMm (with --creep), status.`,
  },
  ride: {
    about: 'Settle a tree under a kind of riding, case by case: walk on hills, trot, mounting, or your own.',
    after: `
Example: Post on Tuesday at trot
  barwright ride examples/post.pattern.json examples/tuesday.back.json --riding "Trot work"

What kinds there are, with the source of every case:
  barwright ride --riding list

Riders differ by the setup: --set setup.load.riderKg=104. A riding of your own is a *.riding.json file (its fields:
barwright schema riding); any set of the list is one to start from.`,
  },
  flex: {
    about: 'What bars that bend do to a pair, and what not: tips, layers, warmth, time, ground seat, one by one.',
    after: `
Example: does the layered Post that gives at its tips lie better on Dumpling than a rigid one?
  barwright flex examples/post-layered.pattern.json examples/dumpling.back.json
  barwright flex examples/post-layered.pattern.json examples/dumpling.back.json --set setup.warmth.ambientC=5

The bars bend here whatever setup.flex.bars says; rigid ones are a row beside them. Materials are the pattern's (materials
bar, lower, tip), their numbers the table's or the setup's own (--set "setup.materials.low density polyethylene.alongMPa=300",
or at25KPa for a soft one); warmth and time are assumed curves that are named with the result. Fatigue and damping are not modelled.`,
  },
  size: {
    about: 'Settle every tree of a shelf under one rider on one back: which is closest, and why not the others.',
    after: `
Example: which tree of Quillback Lane lies closest on Heron under a rider of 230 lb?
  barwright size examples/heavy.rider.json examples/quillback-lane.shelf.json examples/heron.back.json

The rider's file says weight and kind of riding, the shelf's what the shop makes (barwright schema rider, barwright
schema shelf); the pattern that a shelf names lies beside it. Trees are told on stderr as they are done, mostly in less
than a second each, the first and those on a scan in more; Ctrl-C stops after the one at hand. 3000 cells a tree are
enough to choose by; --samples 10000 gives what fit gives. The weight comes from the rider's file, not from the setup,
and the layers from the shelf, where it has any.
What a tree bears is a figure of the tree on this back, not permission for a rider of that weight.`,
  },
  check: {
    about: 'Say what a file is: its kind, its resolved values, and whatever is odd about it.',
    after: `
Example:
  barwright check examples/wren.pattern.json`,
  },
  view: {
    about: 'Serve the bench to a browser on this machine; end with Ctrl-C.',
    after: `
Example:
  barwright view examples/wren.pattern.json examples/dumpling.back.json
then open the address it prints. Nothing is opened by itself and nothing leaves this machine.`,
  },
  schema: {
    about: 'Print a published JSON Schema (draft 2020-12).',
    names:
      'pattern, back, setup, riding, rider, shelf, lesson, bench, numbers, fit-result, sweep-result, shoulder-result, ride-result, flex-result, riding-sets, size-result, reach-result, sure-result, measure-result, back-result, changes-result, compare-result, sheet-result, draw-result, check-result or error',
    after: `
Example:
  barwright schema pattern`,
  },
} as const;
