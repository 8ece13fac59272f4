// lampwright wiring: channels, drivers, fuses and wires as a table or CSV.
import { counted } from '../checks/words.ts'
import type { PowerReport, WireRun } from '../electrothermal/result.ts'
import { runPower } from '../job/power/run.ts'
import type { Lamp } from '../lamp/schema.ts'
import { powerOf } from '../library/typicalPower.ts'
import { billOfMaterials, wiringCsv } from '../report/wiringTable.ts'
import { columns, fixed, short, wrapped } from './format.ts'
import { EXIT, stripControls, type Tools } from './io.ts'
import { openLamp } from './lampFile.ts'
import { onlyPositional, type Parsed } from './options.ts'

export const WIRING_OPTIONS = { csv: { type: 'boolean' }, help: { type: 'boolean' } } as const

const WIDTH = 96

export async function wiringCommand(parsed: Parsed, { io }: Tools): Promise<number> {
  const lamp = openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'wiring'))
  // The list needs no simulation of a mode.
  const report = runPower(lamp, { mode: '' })
  io.out(parsed.flags.has('csv') ? wiringCsv(report.wiring) : wiringText(lamp, report))
  return EXIT.fine
}

function wiringText(lamp: Lamp, report: PowerReport): string {
  const power = powerOf(lamp).value
  const drivers = power.drivers.map((d) => [
    stripControls(d.name),
    d.kind,
    `${short(d.inputMinV)} to ${short(d.inputMaxV)} V in`,
    `${short(d.headroomV)} V headroom`,
    `${fixed(100 * d.efficiency, 0)} %`,
    `${short(d.maxOutputA)} A at most`,
    `dims by ${d.dimming}`,
  ])
  const rows = report.wiring.map((w) => [
    stripControls(w.from),
    stripControls(w.to),
    w.gaugeWords,
    `${short(w.lengthMm)} mm`,
    `${fixed(w.amps, 2)} A`,
    `${fixed(w.dropV, 3)} V`,
    fuseWords(w),
    `${w.plus}, ${w.minus}`,
  ])
  const head = ['from', 'to', 'gauge', 'length', 'current', 'drop', 'fuse', 'plus, minus']
  const totals = billOfMaterials(report.wiring).map((b) => [
    b.what,
    b.unit === 'm' ? `${fixed(b.amount, 2)} m` : `${b.amount}`,
  ])
  const lines = [
    stripControls(lamp.name),
    `${counted(report.emitters, 'emitter')} on ${counted(report.channelCount, 'channel')}; supply: ${stripControls(power.supply.name)}`,
    ...report.assumed.filter((s) => /supply/.test(s)).map((s) => `Taken as typical: ${stripControls(s)}`),
    '',
    'Drivers',
    ...columns(drivers).map((l) => `  ${l}`),
    '',
    'Wires (length one way; each run is a pair; currents at the emptiest supply, drop as warm as the insulation bears)',
    ...columns([head, ...rows], [3, 4, 5]).map((l) => `  ${l}`),
    '',
    'Contactor, relay or switch in the main wire, for direct current',
    ...columns(
      [['mode', 'current', 'voltage', 'rating'], ...switches(power.harness.contactor?.maxA ?? null, report)],
      [1, 2, 3],
    ).map((l) => `  ${l}`),
    '',
    'To buy, without spare; wire as single conductors',
    ...columns(totals, [1]).map((l) => `  ${l}`),
    '',
    wrapped(
      'Fuse every channel, and the battery at its own terminals. Local codes and licensed practice come first.',
      WIDTH,
      '',
    ),
  ]
  return `${lines.join('\n')}\n`
}

/** By mode: current and voltage to switch, the rating that suffices, and whether the document's contactor has it. */
const switches = (hasA: number | null, { switching }: PowerReport): string[][] =>
  switching.map((s) => [
    stripControls(s.mode),
    `${fixed(s.amps, 2)} A`,
    `${fixed(s.volts, 1)} V`,
    `${short(s.ratingA)} A${hasA === null ? '' : hasA >= s.ratingA ? ` (${short(hasA)} A is there)` : ` (only ${short(hasA)} A is there)`}`,
  ])

function fuseWords(w: WireRun): string {
  const fits = w.fuseRange
    ? w.fuseRange.fitsA
      ? `${short(w.fuseRange.fitsA)} A would do`
      : 'none fits: thicker wire'
    : ''
  if (!w.fuse) return w.fuseRange ? `none (${fits})` : ''
  return `${short(w.fuse.amps)} A, ${short(w.fuse.volts)} V`
}
