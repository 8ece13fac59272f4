// Text of --help.
import { DEMO_NAMES } from '../library/demoNames.ts'
import { COMMAND_USES } from './uses.ts'

/** Names that stand in place of a file. */
export const EXAMPLES: readonly string[] = ['demo', ...DEMO_NAMES]

export const COMMANDS = [
  'trace',
  'check',
  'danger',
  'sweep',
  'optimize',
  'tolerances',
  'merge',
  'measure',
  'compare',
  'wish',
  'heat',
  'wiring',
  'draw',
  'parts',
  'solid',
  'optics',
  'source',
  'photometry',
  'book',
  'new',
  'completion',
] as const
export type Command = (typeof COMMANDS)[number]

const EXAMPLE_LIST = `Examples, by name in place of a file: ${EXAMPLES.join(', ')}.\ndemo is gannet-head; for a file of such a name write ./demo.`

const COMMAND_HELP: Record<Command, string> = {
  trace: `lampwright trace FILE|EXAMPLE [--rays N] [--seed S] [--threads T] [--engine E] [--json]
  Traces a lamp and prints its beam sheet: figures with ± at 95 %, where the light
  goes, hot spots, findings, cautions.
  --rays N     rays to trace: 2,000,000 by default, at most 1,000,000,000
  --seed S     another seed gives other random numbers; the same seed, the same sheet
  --threads T  one for each core by default; 0 traces without threads
  --engine E   cpu, the processor, by default; gpu, a graphics device or nothing (through the
               optional package webgpu); auto, such a device where there is one that gains time
  --json       one JSON object on stdout instead of text
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  check: `lampwright check FILE|EXAMPLE [--json]
  Prints all findings of a lamp: of its measures, its beam, its danger sheet, its heat and
  power. Exit status 1 when one of them is severe.
  --json       one JSON object on stdout instead of text
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  danger: `lampwright danger FILE|EXAMPLE [--rays N] [--seed S] [--threads T] [--json]
  Prints the danger sheet: clear distances, foci, times to harm, what the lamp does to
  itself, the sun falling in from every side, eyes. All figures are upper ends.
  --rays N     rays of the beam: 1,000,000 by default, at most 1,000,000,000
  --seed S     another seed gives other random numbers; the same seed, the same sheet
  --threads T  one for each core by default; 0 traces without threads
  --json       one JSON object on stdout instead of text
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  sweep: `lampwright sweep FILE|EXAMPLE --vary PATH=FROM:TO:COUNT [--vary …] [--rays N] [--seed S]
                 [--threads T] [--csv FILE|-] [--part I/N] [--out FILE] [--force] [--json] [--list]
  Traces the lamp once for each value of one number of it, or each pair of two, all
  with the same random numbers, and prints the figures, the worst finding and the best.
  --vary       a number of the lamp and the values to try: lens.focalMm=900:1100:6 are six
               from 900 to 1100, tunnel.sides=4,6,8 just these; twice for a grid
  --list       prints every number that can be varied, with its limits
  --rays N     rays for each lamp: 65,536 by default, at most 10,000,000
  --seed S     another seed gives other random numbers; the same seed, the same table
  --threads T  one for each core by default; 0 traces without threads
  --csv FILE   every figure with its standard error to a file, or - for stdout
  --part I/N   part I of N alone, into the file of --out; merge joins them. A part that is there
               already is not computed again
  --out FILE   every lamp of the run, or of its part, for merge
  --force      write over a file that is there already
  --json       one JSON object on stdout instead of text
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  tolerances: `lampwright tolerances FILE|EXAMPLE [--lamps N] [--rays N] [--seed S] [--threads T]
                      [--confirm] [--part I/N] [--out FILE] [--force] [--json] [--list]
  Builds the lamp many times within its tolerances, traces each, and prints how every figure
  spreads, how hot it may get, which tolerance the spread comes from and what to hold tighter.
  --list       prints the lamp's tolerances; they stand in its file, typical where it has none
  --lamps N    lamps to build: 420 by default, at most 100,000; whole rows of the design are
  --rays N     rays for each lamp: 65,536 by default, at most 10,000,000
  --seed S     another seed builds other lamps; the same seed, the same figures
  --threads T  one for each core by default; 0 traces without threads
  --confirm    retraces two lamps of each row with what is to be held tighter halved, and prints
               what ± of building then is
  --part I/N   part I of N alone, into the file of --out; merge joins them. A part that is there
               already is not computed again
  --out FILE   every lamp of the run, or of its part, for merge
  --force      write over a file that is there already
  --json       one JSON object on stdout instead of text`,
  merge: `lampwright merge PART… [--out FILE] [--csv FILE|-] [--threads T] [--force] [--json]
  Joins the parts of a run of sweep, tolerances or optimize and prints what the run in one go would
  have printed, to the last digit. Refuses parts of different runs and names those that are missing.
  --out FILE   the whole run as a file, of optimize the best lamp: the same bytes as without parts
  --csv FILE   of a sweep: every figure with its standard error to a file, or - for stdout
  --threads T  of optimize, whose best lamps are traced again now: one for each core by default
  --force      write over a file that is there already
  --json       one JSON object on stdout instead of text
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  optimize: `lampwright optimize FILE|EXAMPLE --move PATH=MIN..MAX … --want WISH [--keep LIMIT …] [--evaluations N]
                    [--starts N] [--rays N] [--seed S] [--threads T] [--state FILE] [--part I/N] [--out FILE]
                    [--force] [--json] [--list]
  Moves numbers and choices of a lamp within bounds until a figure is at its best. The best is
  traced again with fresh random numbers: what is gained, what is within the noise, what stands
  at a bound. Two wishes give the lamps that are best in one for what they have of the other.
  --move       a number and its bounds, lens.focalMm=900..1100, or a choice, tunnel.section=round,6
               (tunnel.section=any: all of them); up to twelve
  --want       "candela max", "length min", "beam = 8"; twice for two wishes
  --keep       "junction <= 110", "evenness >= 0.6": what the lamp must keep; of dangers the upper
               end of ± is judged
  --list       prints what can move, with its limits, and the figures
  --evaluations N  lamps to try: 200 by default, at most 100,000
  --starts N   so many searches of as many lamps each, the first from the lamp as it stands, the
               others from random places within the bounds; the best of all is checked
  --rays N     rays for each lamp: 16,384 by default, at most 10,000,000; the axis alone is
               traced backwards
  --seed S     another seed gives other random numbers; the same seed, the same search
  --threads T  one for each core by default; 0 traces without threads
  --state FILE every lamp that was tried: the same command goes on where it was stopped
  --part I/N   part I of N of the starts alone, into the file of --out; merge joins them. A part
               that is there already is not computed again
  --out FILE   where the best lamp goes; with --part every lamp that was tried, for merge
  --force      write over a file that is there already
  --json       one JSON object on stdout instead of text`,
  measure: `lampwright measure plan FILE|EXAMPLE [--wall METRES] [--mode NAME] [--csv | --html | --json] [--out FILE]
lampwright measure fit FILE|EXAMPLE [READINGS.csv] [--json] [--adopt N --out FILE] [--class A|B|C]
lampwright measure picture FILE|EXAMPLE PICTURE.png… --marks X,Y,X,Y,X,Y,X,Y --size W,H --lux-at X,Y
                --lux LX --wall METRES [--stray LX] [--times S,S…] [--even FILE] [--brightest]
                (--out FILE | --json)
  For the built lamp, a lux meter and a wall. plan: how far, at which places, what the meter
  will show there, how to do it safely. fit: candela, angles and lumens from the readings with
  their uncertainty; how well they agree with the traced lamp, and which part may not be as drawn.
  Without READINGS those in the lamp's own file. picture: photographs of the lit wall, taken from
  beside the beam, as readings in a copy of the lamp; several are exposures of one scene.
  --wall METRES distance of the wall: chosen by the lamp (plan), or where the file doesn't say it
  --mode NAME   the light of one of its modes, 30 s after switch-on, instead of the lamp's own
  --class C     quality class of the meter, DIN 5032-7, where the file doesn't say it
  --csv         the plan as tables to fill in, which fit reads
  --html        the plan as a page to print
  --json        one JSON object instead of text
  --marks X,Y…  corners of a rectangle on the wall in the first picture, pixels from its upper left,
                clockwise from the upper left one
  --size W,H    of that rectangle, mm
  --lux-at X,Y  where the meter lay flat on the wall, pixels; --lux LX what it read
  --stray LX    what the meter read there with the lamp off
  --times S,S…  of each picture in turn, where its file doesn't say it: 1/250,1/60
  --even FILE   a picture of an evenly lit field by the same camera: how its lens darkens the corners
  --brightest   the lamp's axis is where the wall is brightest, not the rectangle's middle
  --adopt N     writes a copy of the lamp with cause N of the list, and the readings in it;
                heat:N, power:N: of the lists of temperatures, of volts and amperes
  --rays N      of a place (plan: 8,192), of a prediction (fit: 32,768, what may fit six times)
  --seed S      another seed gives other random numbers; the same seed, the same figures
  --threads T   one for each core by default; 0 traces without threads
  --out FILE    where it goes instead of stdout
  --force       write over a file that is there already
  --units U     of sizes and temperatures in words: metric by default, or inch; options, CSV and JSON are metric`,
  compare: `lampwright compare A B [C] [D] [--rough] [--rays N] [--seed S] [--threads T] [--json]
  Up to four lamps, files or examples, side by side: what changed in words, figures with which of
  them differ by more than the noise of tracing, the danger sheets row by row, heat, mass, parts.
  All are traced with the same random numbers. The night side by side is drawn on the page alone.
  --rough      dangers from few rays: a wider ±, and so higher upper ends, in a fifth of the time
  --rays N     rays for each lamp: 262,144 by default, at most 100,000,000
  --seed S     another seed gives other random numbers; the same seed, the same table
  --threads T  one for each core by default; 0 traces without threads
  --json       one JSON object on stdout instead of text
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  wish: `lampwright wish [WISH.json] [--candela CD | --lux LX --distance M [--size M]] [--minutes MIN]
                [--length MM] [--width MM] [--mass KG] [--emitter ID] [--emitters N] [--lens FOCAL:SIZE]
                [--tunnel ACROSS:LENGTH] [--pack SERIES:PARALLEL] [--out-dir PATH] [--rays N] [--seed S]
                [--threads T] [--force] [--units metric|inch] [--json]
  Whole lamps of several kinds from what a lamp must do, side by side; or what of physics forbids it,
  with the least change that allows it. Options override the file.
  --candela CD  on the axis
  --lux LX      on the target's middle; with a size its mean
  --distance M  of the target from the lamp's front
  --size M      side of the square that is to be lit
  --minutes MIN at full light: 10 by default
  --length, --width, --mass   the greatest, sink and lens included; mass in kg, supply included
  --emitter ID  class at hand: one-die-3.5, one-die-5, four-die-7, small-die-5; any by default
  --emitters N  how many are at hand
  --lens F:S    lens sheet at hand: focal length and width, mm
  --tunnel A:L  bin or tube at hand for a tunnel: width and length, mm
  --pack S:P    pack at hand: cells in series and in parallel, typical lithium cells of 3 Ah
  --out-dir PATH  folder where the lamps go, one file each
  --rays N      rays of each kind's last trace: 65,536 by default, at most 10,000,000
  --seed S      another seed gives other random numbers; the same seed, the same lamps
  --threads T   one for each core by default; 0 works without threads
  --force       write over files that are there already
  --json        one JSON object on stdout instead of text, the lamps in it
  --units U     of sizes and temperatures in words: metric by default, or inch; options and JSON are metric`,
  heat: `lampwright heat FILE|EXAMPLE [--mode NAME] [--json]
  How long each mode runs and what ends it: light, temperatures, supply over time, and
  where the energy goes. A short trace tells what light stays in the lamp as heat.
  --mode NAME  one mode alone
  --json       one JSON object on stdout instead of text
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  wiring: `lampwright wiring FILE|EXAMPLE [--csv] [--json]
  Channels, drivers, fuses and wires, each with the largest current that any mode, charge
  and temperature brings, its drop, and what was found about it.
  --csv        a table for a spreadsheet on stdout instead of text
  --json       one JSON object on stdout instead of text
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  draw: `lampwright draw FILE|EXAMPLE --sheet NAME [--format dxf|svg|pdf] [--out FILE] [--paper A4|Letter] [--force]
lampwright draw FILE|EXAMPLE --list
  A sheet at true size to cut, drill or bend by: face, boards, tunnel laid flat, rings,
  stand-offs. DXF and SVG have the cutter's kerf in their lines; PDF has the finished sizes,
  over as many pages as it takes, to be printed at 100 %.
  --list       prints the sheets with their sizes, and why others can't be drawn
  --sheet NAME which sheet
  --format F   pdf by default
  --out FILE   where it goes: the lamp's name and the sheet's by default; - for stdout (dxf, svg)
  --paper P    of the PDF: the workshop's, A4 by default
  --force      write over a file that is there already
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  parts: `lampwright parts FILE|EXAMPLE [--order] [--csv | --json | --html] [--out FILE] [--force]
  Every part that the lamp needs, in the order of assembly, with size, mass and price; the
  lamp's mass and centre of gravity. What isn't known is named, never counted as nothing.
  --order      the order of assembly as well, with checks and cautions
  --csv        a table for a spreadsheet instead of text
  --json       one JSON object instead of text
  --html       a page to print instead of text
  --out FILE   to a file instead of stdout
  --force      write over a file that is there already
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  solid: `lampwright solid FILE|EXAMPLE --part NAME [--format glb|stl] [--out FILE] [--force]
lampwright solid FILE|EXAMPLE --list
  A part of the lamp as a solid. GLB, for viewers and other programs: named parts, metres, the
  beam along +Z, +Y up. STL, for printing: mm, closed; parts that are printed lie on the bed, cut
  into pieces that fit it, a file for each kind of piece.
  --list       prints the parts, and why others can't be made
  --part NAME  which part
  --format F   stl for what is printed, else glb, by default
  --out FILE   where it goes; by default named after lamp and part; pieces add their names
  --force      write over a file that is there already
  --units U    of sizes and temperatures in words: metric by default, or inch; files stay mm and m`,
  optics: `lampwright optics FILE|EXAMPLE [--paraboloid FOCAL:NECK:RIM | --concentrator ANGLE:SMALL[:KEPT]]
                  [--finish FINISH] [--to FILE] [--force]
lampwright optics --list
  What light passes on its way, from the face on: stretches of the tunnel with their finishes,
  steps, lens, covers and films, and how they stand. Or a lamp with another tunnel:
  --paraboloid    a paraboloid about the emitters: focal length, neck and rim in mm
  --concentrator  a compound parabolic concentrator over the emitters: half angle of the cone
                  in degrees, small end in mm, share of its length that is kept (1 by default)
  --finish FINISH what the wall is lined with, all of it; by default the tunnel's own
  --to FILE       where the changed lamp goes
  --force         write over a file that is there already
  --list          prints the finishes: reflectance, mirror share of it, blur
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  source: `lampwright source FILE|EXAMPLE --rays RAYS [--emitter ID] [--centre] [--flux] [--to FILE] [--force]
lampwright source FILE|EXAMPLE --without [--emitter ID] --to FILE [--force]
  A ray file (IES TM-25) as the light of an emitter type, in words, and with --to into a lamp
  file. Its z axis becomes the emitter's axis, its origin the middle of the emitting surface.
  The lamp keeps up to 32,768 of the rays, drawn by weight; its flux stays the emitter's own.
  --rays RAYS   the ray file; lengths are mm
  --emitter ID  which emitter type; may be left out where there is one
  --centre      moves the middle of the rays' start onto the emitter
  --flux        takes the file's lumens as the emitter's flux
  --without     takes the rays out: source, profile and spectrum, which came near them, stay
  --to FILE     where the changed lamp goes
  --force       write over a file that is there already
  --units U     of sizes in words: metric by default, or inch; files are metric`,
  photometry: `lampwright photometry FILE|EXAMPLE --format lm63|tm25 [--edition 2002|2019] [--rays N] [--seed S]
                      [--threads T] [--out PATH] [--force]
  The traced light as a file for other programs; a computed prediction, no measurement.
  --format lm63    intensities over direction, IES LM-63, type C; vertical 0° is the lamp's axis
  --format tm25    single rays with place, direction, wavelength, W and lm, IES TM-25 (2013)
  --edition E      of LM-63: 2019 by default, or 2002
  --rays N         rays to trace: 2,000,000 by default; of tm25 1,000,000, and those that leave
                   the lamp stand in the file, 36 bytes each
  --seed S         another seed gives other random numbers; the same seed, the same file
  --threads T      one for each core by default; 0 traces without threads
  --out PATH       where it goes; without it LM-63 goes to stdout
  --force          write over a file that is there already`,
  book: `lampwright book FILE|EXAMPLE [--out FILE.pdf|FILE.html] [--without CHAPTER,…] [--rays N] [--seed S]
                [--threads T] [--quick] [--force]
lampwright book --chapters
  The whole lamp in one document: pictures, beam sheet, danger, heat, wiring, parts, small drawings,
  assembly, first power-up and what the figures rest on; only the page adds a picture of the night.
  It traces the lamp, reads its dangers and runs every mode. A PDF has the lamp in it, so that it
  opens wherever a lamp file does.
  --out FILE   where it goes, as PDF or HTML by its ending; by default a PDF named after the lamp
  --without    chapters to leave out, by name
  --chapters   prints their names
  --rays N     rays of the beam: 2,000,000 by default, at most 1,000,000,000
  --seed S     another seed gives other random numbers; the same seed, the same figures
  --threads T  one for each core by default; 0 traces without threads
  --quick      few rays, to see soon what the document is like; the book says so
  --force      write over a file that is there already
  --units U    of sizes and temperatures in words: metric by default, or inch; JSON is metric`,
  new: `lampwright new NAME [--as EXAMPLE] [--force]
  Writes NAME.lamp.json, a copy of an example to start from.
  --as EXAMPLE which example: gannet-head by default
  --force      write over a file that is there already
  --units U    of sizes in words: metric by default, or inch; the file is metric`,
  completion: `lampwright completion bash|zsh
  Prints a script. With it the shell completes commands, options, their values, examples and files.`,
}

const usedAs = (command: Command): string =>
  ['For instance', ...COMMAND_USES[command].map((use) => `  lampwright ${use}`)].join('\n')

const statusText = (command: Command): string =>
  `Exit status: 0 fine, ${command === 'check' ? '1 a severe finding, ' : ''}2 refused, with the reason on stderr, 130 ended by Ctrl+C.`

const isOfLamp = (command: Command): boolean => command !== 'completion' && command !== 'merge' && command !== 'wish'

export const helpText = (command?: Command): string =>
  command
    ? `${COMMAND_HELP[command]}\n\n${usedAs(command)}\n\n${statusText(command)}\n${isOfLamp(command) ? `${EXAMPLE_LIST}\n` : ''}`
    : `Lampwright: the beam, the losses, the hot spots and the danger of a lamp before anything is cut.

${COMMANDS.map((c) => COMMAND_HELP[c]).join('\n\n')}

lampwright --help | --version

${EXAMPLE_LIST}
lampwright COMMAND --help prints one of them with uses of it.
Exit status: 0 fine, 1 a severe finding (check), 2 refused, with the reason on stderr, 130 ended by Ctrl+C.
`
