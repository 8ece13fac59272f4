// Cells of the wiring's tables in words, the same on the terminal and in the book. Names are as in the document: escape them.

import type { PowerReport, WireRun } from '../electrothermal/result.ts'
import type { Driver } from '../lamp/schema.ts'
import { gaugeInEither } from '../library/wireGauge.ts'
import { allInSystem, inEither, inSystem, sizeText } from '../num/quantity.ts'
import { roundedUp } from '../num/sided.ts'
import { M_PER_FOOT, type UnitSystem } from '../num/unitSystem.ts'
import { fixed, fixedDown, fixedUp, short, shortDown, shortUp } from './numbers.ts'
import type { BillItem, WiringRow } from './wiringTable.ts'

/** Currents into a short circuit, and into the drivers' capacitors at switch-on. */
export function shortWords({ faults, inrush }: PowerReport): string {
  const { supplyA, branchA } = faults
  const short_ =
    supplyA === null
      ? 'Current into a short circuit: not known.'
      : `Current into a short circuit: ${shortUp(Math.ceil(supplyA))} A at the supply, ${branchA === null ? 'not known' : `${shortUp(Math.ceil(branchA))} A`} at the branching place.`
  const peakA = inrush.prechargeA ?? inrush.peakA
  const charge =
    peakA === null
      ? ' Drivers’ capacitors at switch-on: not known, no resistance is in the document.'
      : ` Drivers’ capacitors at switch-on: up to ${shortUp(peakA)} A${inrush.prechargeS === null ? '' : `, charged after ${short(roundedUp(inrush.prechargeS, 2))} s`}.`
  return `${short_}${charge}`
}

/** A driver: name, kind, volts in, headroom, efficiency, most current, dimming, where it sits. */
export const driverCells = (d: Driver): string[] => [
  d.name,
  d.kind,
  `${short(d.inputMinV)} to ${short(d.inputMaxV)} V in`,
  `${short(d.headroomV)} V headroom`,
  `${fixed(100 * d.efficiency, 0)} %`,
  `${shortDown(d.maxOutputA)} A at most`,
  `dims by ${d.dimming}`,
  d.mounted === 'plate' ? 'on the plate' : '',
]

/** What to buy, and how much. */
export const billCells = ({ what, amount, unit }: BillItem, system: UnitSystem = 'metric'): string[] => [
  what,
  unit === 'm' ? inSystem(metresText(amount), system) : `${amount}`,
]

/** A length of wire to buy, m or ft. */
const metresText = (m: number): string => inEither(`${fixedUp(m, 2)} m`, `${fixedUp(m / M_PER_FOOT, 1)} ft`)

export const WIRE_HEAD = [
  '',
  'from',
  'to',
  'gauge',
  'length',
  'current',
  'bears',
  'drop',
  'fuse',
  'plus, minus',
  'worst in',
]
export const WIRE_NOTE =
  'Length one way; each run is a pair unless it says “alone”; the largest currents that last from full to cut-off, cold to hot, in any mode; drop as warm as the insulation bears.'

/** A row under WIRE_HEAD. */
export function wireCells({ run: w, count, from, to }: WiringRow, system: UnitSystem = 'metric'): string[] {
  const cells = [
    count > 1 ? `×${count}` : '',
    from,
    to,
    `${gaugeInEither(w.gaugeWords)}${w.conductors === 1 ? ', alone' : ''}`,
    sizeText(short(Math.round(w.lengthMm)), w.lengthMm, 1),
    `${fixedUp(w.amps, 2)} A`,
    `${fixedDown(w.bearsA, 1)} A`,
    `${fixedUp(w.dropV, 3)} V`,
    fuseWords(w),
    w.conductors === 2 ? `${w.plus}, ${w.minus}` : w.plus,
    w.mode === '' ? '' : `${w.mode}, ${fixed(w.terminalV, 1)} V`,
  ]
  return allInSystem(cells, system)
}

/** By mode: current and voltage to switch, the rating that suffices, and whether the document's contactor has it. */
export const SWITCH_HEAD = ['mode', 'current', 'voltage', 'rating']

export const switchRows = (hasA: number | null, { switching }: PowerReport): string[][] =>
  switching.map((s) => [
    s.mode,
    `${fixedUp(s.amps, 2)} A`,
    `${fixedUp(s.volts, 1)} V`,
    `${shortUp(s.ratingA)} A${hasWords(hasA, s.ratingA, '')}`,
  ])

/** By group: its boards, its current in each mode, and what its relay must break and bear. Empty where a lamp has one group without a relay. */
export function groupRows({ groups }: Pick<PowerReport, 'groups'>): { head: string[]; rows: string[][] } {
  const [first] = groups
  if (!first || (groups.length === 1 && !first.relay)) return { head: [], rows: [] }
  return {
    head: ['group', 'boards', ...first.byMode.map((m) => m.name), 'voltage', 'rating'],
    rows: groups.map((g) => [
      g.name,
      `${g.boards}`,
      ...g.byMode.map((m) => (m.amps === null ? 'off' : `${fixedUp(m.amps, 2)} A`)),
      `${fixedUp(g.volts, 1)} V`,
      `${shortUp(g.ratingA)} A${hasWords(g.relay ? g.relay.maxA : null, g.ratingA, g.relay ? '' : ' (no relay: its drivers switch it)')}`,
    ]),
  }
}

export const GROUP_NOTE =
  'The largest currents that last into each group; dangers and heat are judged with every group on as well, since a relay’s contacts may weld shut.'

const hasWords = (hasA: number | null, ratingA: number, none: string): string =>
  hasA === null ? none : hasA >= ratingA ? ` (${shortDown(hasA)} A is there)` : ` (only ${shortDown(hasA)} A is there)`

function fuseWords(w: WireRun): string {
  const fits = w.fuseRange
    ? w.fuseRange.fitsA
      ? `${short(w.fuseRange.fitsA)} A would do`
      : 'none fits: thicker wire'
    : ''
  if (!w.fuse) return w.fuseRange ? `none (${fits})` : ''
  return `${short(w.fuse.amps)} A, ${short(w.fuse.volts)} V${w.fuse.kind ? `, ${w.fuse.kind}` : ''}`
}
