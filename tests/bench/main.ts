// npm run bench [-- ITEM …] [--engine gpu]: ratios and medians, measured side by side on this machine. Never part of the tests. `--help` lists the items.
import { backwardGrowth, directionsCost } from './backward.ts'
import { builtPerSecond, lampsPerSecond, wishTimes } from './choose.ts'
import { coverage } from './coverage.ts'
import { dragBoard, dragHere } from './drag.ts'
import { dragOnPlan } from './dragPage.ts'
import { firstSheet } from './firstSheet.ts'
import { fitTimes } from './fit.ts'
import { gpuBench } from './gpu.ts'
import { gpuBackward } from './gpuBackward.ts'
import { gpuEdits } from './gpuEdit.ts'
import { printGpu } from './gpuPrint.ts'
import { growth } from './growth.ts'
import { savings } from './lowDiscrepancy.ts'
import { pageWork } from './page.ts'
import { paintTimes } from './paint.ts'
import { powerTimes } from './power.ts'
import { raysRows } from './rays.ts'
import { settledSheets } from './settle.ts'
import { soak } from './soak.ts'
import { exampleSpeeds } from './speed.ts'
import { startTimes } from './start.ts'

const HELP = `npm run bench [-- ITEM ...] [--engine gpu]      what it measures; without an item all but the last six

speed      rays a second on one core, each example
growth     cost of a ray against emitters and grooves
first      an edit of the searchlight to its first sheet and to 1 %; the lens dragged
backward   1 % on the axis from either end; with --engine gpu on the device
sequence   what the low-discrepancy sequence saves
gpu, edit  the graphics device; an edit on it
page       the page's own thread while hands are on the lamp
power      heat and power of a mode
choose     lamps a second that a search evaluates
tolerances, wish, fit   built lamps a second; a wish; a fit
start      start of the command line
only by name:
settle     an edit to the whole settled sheet, and its steps: --threads N, --lamps a,b, --times N
drag       one board dragged: whole sheets a second (--threads N, --readers N), and the page's tasks over 16 ms on Plan (--no-page: without)
paint      navigation to first paint, lamp and figures; bytes of script: --times N
soak       arrow presses for --minutes N (2): whether the page's memory grows
rays       rays a second and the first sheet beside another checkout
coverage   how often each ± holds the truth`

const args = process.argv.slice(2)
if (args.includes('--help')) {
  console.log(HELP)
  process.exit(0)
}
const engineAt = args.indexOf('--engine')
/** `--engine gpu` alone: the whole bench of that engine; after a name: that one on it. */
const onDevice = engineAt >= 0 && args[engineAt + 1] === 'gpu'
const rest = engineAt >= 0 ? args.toSpliced(engineAt, 2) : args
const wanted =
  onDevice && rest.every((arg) => arg.startsWith('--') || !Number.isNaN(Number(arg))) ? ['gpu', ...rest] : rest

/** --peak-tera-ops and --peak-gb-per-s: what the device's maker states. Without them the H100 SXM's. */
function peaksOf(args: string[]) {
  const after = (flag: string, otherwise: number) =>
    args.includes(flag) ? Number(args[args.indexOf(flag) + 1]) : otherwise
  return { teraOps: after('--peak-tera-ops', 33.5), gbPerSecond: after('--peak-gb-per-s', 3350) }
}
const requests = (name: string) => wanted.length === 0 || wanted.includes(name)

if (!args.includes('--serve')) console.log(`Node ${process.version}, ${process.arch}`)
if (requests('speed')) {
  console.log('\nRays per second on one core, CPU engine, full physics (median of five stretches)')
  console.table(
    exampleSpeeds().map((s) => ({
      lamp: s.lamp,
      'million rays/s': Math.round(s.raysPerSecond / 1e4) / 100,
      'reference in JavaScript': Math.round(s.referencePerSecond / 1e4) / 100,
    })),
  )
}
if (requests('growth')) {
  console.log('\nCost of a ray against the number of emitters and of grooves (ratio to the first row of its kind)')
  console.table(growth())
}
if (requests('first')) {
  console.log('\nFrom an edit of the searchlight to its first rough sheet, and to ± 1 % on the axis (medians, ms)')
  console.table([await firstSheet()])
  console.log('\nDrag: sheets per second, while the lens is dragged through sixty edits')
  console.table(await dragHere())
}
if (requests('backward') && onDevice) {
  const found = await gpuBackward()
  if ('why' in found) console.log(`\nBackward tracing on a graphics device: not measured, ${found.why}`)
  else {
    console.log(
      `\nBackward tracing on ${found.device}: rays towards the axis (medians of nine; spread from least to most)`,
    )
    console.table(found.speeds)
    console.log(`First of its make, with shader and check: ${found.prepareMs} ms`)
    console.log(
      '\n± 1 % (95 %; software: ± 5 %) on the axial candela of the searchlight by backward tracing (each seed’s own rays; medians of nine edits)',
    )
    console.table(found.axis)
  }
} else if (requests('backward')) {
  console.log(
    '\n± 1 % (95 %) on the axial candela of the searchlight from either end, one core (medians over five seeds)',
  )
  console.table(directionsCost())
  console.log('\nCost of a backward ray against the number of emitters that share the same face')
  console.table(backwardGrowth())
}
if (requests('sequence')) {
  console.log(
    '\nHow many times more plain random rays the same error would take (24 seeds each; the ratio itself is ± 40 %)',
  )
  console.table(await savings())
}
if (requests('gpu')) {
  const found = await gpuBench()
  if ('why' in found) console.log(`\nGraphics engine: not measured, ${found.why}`)
  else printGpu(found, peaksOf(wanted))
}
if (requests('edit')) {
  const found = await gpuEdits()
  if ('why' in found) console.log(`\nAn edit on a graphics device: not measured, ${found.why}`)
  else {
    console.log(
      `\nAn edit on ${found.device}: a lens that is dragged, besides and with its first rays (medians of nine edits)`,
    )
    console.table([found.cost])
    console.log('\nDrag: sheets per second, while the lens is dragged through sixty edits')
    console.table(found.drag)
  }
}
if (requests('page')) {
  console.log('\nThe page’s own thread while hands are on the lamp, ms of its processor time')
  for await (const row of pageWork()) console.log(row)
}
if (requests('power')) {
  console.log('\nHeat and power coupled, all of a mode from switch-on to its end (processor time)')
  console.table(powerTimes())
}
if (requests('choose')) {
  console.log('\nLamps a second that a search evaluates, one core, 16,384 rays each (medians of processor time)')
  console.table(await lampsPerSecond())
}
if (requests('fit')) {
  console.log('\nReadings of a lamp against its trace, twenty readings, 32,768 rays a prediction (processor time)')
  console.table(await fitTimes())
}
if (requests('choose') || requests('tolerances')) {
  console.log('\nLamps a second that are built within tolerances and traced, one core, 65,536 rays each in two traces')
  console.table(await builtPerSecond())
}
if (requests('choose') || requests('wish')) {
  console.log('\nFrom a wish to whole lamps of every kind, seconds of one core')
  console.table(await wishTimes())
}
if (requests('start')) {
  console.log('\nStart of the command line, all of the process')
  console.table(startTimes())
}
if (wanted.includes('rays')) {
  console.log(
    '\nRays a second on one core and the first sheet, processor time (medians; beside another checkout: of the pairs)',
  )
  for await (const row of raysRows(wanted)) console.table([row])
}
// Half an hour for all examples: only when asked for.
if (wanted.includes('coverage')) await coverage(wanted)
if (wanted.includes('settle')) {
  console.log('\nFrom an edit to the whole sheet, settled (medians of wall and processor time)')
  for await (const row of settledSheets(wanted)) console.table([row])
}
if (wanted.includes('drag')) {
  console.log('\nOne board dragged: whole sheets a second, and the page with Plan open')
  console.table(await dragBoard(wanted))
  if (!wanted.includes('--no-page')) console.table([await dragOnPlan()])
}
if (wanted.includes('paint')) {
  const { times, scripts } = await paintTimes(wanted)
  console.log('\nFrom navigation to paint, an empty cache (medians, ms of wall time), and scripts')
  console.table([times])
  console.table(scripts)
}
if (wanted.includes('soak')) {
  const { readings, verdict } = await soak(wanted)
  console.log('\nArrow presses on Plan: the page’s heap after a collection, and its process')
  console.table(readings)
  console.log(verdict)
}
