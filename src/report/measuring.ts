// Readings, their figures and what a fit found, in words: the same for screen and terminal.
import type { CauseKey, CauseUnit } from '../job/fit/cause.ts'
import type { Explanation, FitResult, FittedCause, NextReading, RunningFit } from '../job/fit/result.ts'
import type { ReadingSet } from '../lamp/readings.ts'
import { distanceText, inEither, inSystem, sizeText } from '../num/quantity.ts'
import { fahrenheit, M_PER_FOOT, MM_PER_INCH, type UnitSystem } from '../num/unitSystem.ts'
import type { ReadingWarning } from '../readings/check.ts'
import type { MeasuredFigure, MeasuredName } from '../readings/figures.ts'
import type { LengthSlip } from '../readings/slips.ts'
import { COVERAGE } from '../readings/uncertainty.ts'
import { duration, fixed, short, significant } from './numbers.ts'

const FIGURES: Record<MeasuredName, { name: string; unit: string; how: string }> = {
  axialIntensityCd: { name: 'Axis', unit: 'cd', how: 'lux on the axis' },
  nearFieldCd: { name: 'Axis, near field by this lamp’s trace', unit: 'cd', how: 'lux × traced candela / traced lux' },
  behindM: {
    name: 'Apparent source, behind the front',
    unit: 'm',
    how: '1/√lux over the distance is a straight line',
  },
  peakIntensityCd: { name: 'Peak', unit: 'cd', how: 'the brightest reading × distance² / cos³' },
  beamDistanceM: { name: 'Beam distance (FL 1)', unit: 'm', how: '√(peak / 0.25 lx)' },
  beamAngleDeg: { name: 'Beam angle', unit: '°', how: 'between the places of half the peak' },
  fieldAngleDeg: { name: 'Field angle', unit: '°', how: 'between the places of a tenth of it' },
  lumensInConeLm: {
    name: 'Light within the cone that was read',
    unit: 'lm',
    how: 'zonal sum, the beam taken as round',
  },
  lumensOutsideLm: {
    name: 'Light beside that cone, as traced',
    unit: 'lm',
    how: 'not read: the traced light outside the cone, scaled by what was read within',
  },
  lumensWithOutsideLm: { name: 'Light output: read and traced together', unit: 'lm', how: 'the two rows above' },
  lumensOnWallLm: { name: 'Light on the wall that was read', unit: 'lm', how: 'sum over the grid' },
  lumensLm: { name: 'Light, against the known lamp', unit: 'lm', how: 'known lumens × ratio of lux' },
  lightLeft: { name: 'Light left at the last reading', unit: '%', how: 'of that at 30 s' },
  runTimeS: { name: 'Run time (FL 1)', unit: 'h', how: 'until a tenth of the light at 30 s' },
}

export interface FigureRow {
  name: string
  /** With ± at 95 % and unit. */
  text: string
  how: string
  set: string
}

/** Value and ± U, k = 2, to two digits of U. */
function withDoubt(value: number, u: number): string {
  if (!(u > 0)) return significant(value, 3)
  const most = COVERAGE * u
  const place = Number(most.toExponential(1).split('e')[1]) - 1
  const rounded = (x: number) => fixed(Number((x / 10 ** place).toFixed(0)) * 10 ** place, Math.max(0, -place))
  return `${rounded(value)} ± ${rounded(most)}`
}

/** Shown in % and in hours. */
const SHOWN_TIMES: Partial<Record<MeasuredFigure['name'], number>> = { lightLeft: 100, runTimeS: 1 / 3600 }

export function figureRow(f: MeasuredFigure, system: UnitSystem): FigureRow {
  const { name, unit: metric, how } = FIGURES[f.name]
  const isFeet = metric === 'm' && system === 'inch'
  const unit = isFeet ? 'ft' : metric
  const isMega = unit === 'cd' && f.value >= 1e6
  const isKilo = unit === 'cd' && !isMega && f.value >= 1e4
  const times = isMega ? 1e-6 : isKilo ? 1e-3 : isFeet ? 1 / M_PER_FOOT : (SHOWN_TIMES[f.name] ?? 1)
  const space = unit === '°' ? '' : ' '
  const cone = f.coneHalfDeg === undefined ? '' : `, ${short(2 * f.coneHalfDeg)}° wide`
  const by =
    f.by === 'inverseSquare'
      ? ' at the farthest place alone, by distance²'
      : f.by === 'distances'
        ? ' at several distances, with the place that the light seems to come from'
        : ''
  // FL 1 gives run times to the nearest quarter of an hour (second-hand).
  const text =
    f.name === 'runTimeS' ? fixed(Math.round((4 * f.value) / 3600) / 4, 2) : withDoubt(times * f.value, times * f.u)
  const at = f.atS === undefined ? '' : `, ${duration(f.atS)} after switch-on`
  const near =
    f.inverseSquareShare === undefined
      ? ''
      : `; lux × distance² alone gives ${Math.round(100 * f.inverseSquareShare)} % of it there`
  return {
    name: `${name}${cone}`,
    text: `${text}${space}${isMega ? 'Mcd' : isKilo ? 'kcd' : unit}`,
    how: `${how}${by}${at}${near}`,
    set: f.set,
  }
}

/** Candela by the lamp's own trace, as figures among the others; they go behind those of the axis. */
export const withCandela = (figures: readonly MeasuredFigure[], result: FitResult | null): MeasuredFigure[] => {
  const near = (result?.candela ?? []).map((c): MeasuredFigure => ({ name: 'nearFieldCd', ...c }))
  const at = figures.findLastIndex((f) => f.name === 'axialIntensityCd') + 1
  return figures.toSpliced(at, 0, ...near)
}

const metres = (m: number): string => distanceText(`${short(m)} m`, 1000 * m)

const KINDS: Record<ReadingSet['kind'], string> = {
  line: 'line on a wall',
  grid: 'grid on a wall',
  axis: 'axis',
  time: 'light over time',
  bounce: 'against a known lamp',
  running: 'plate and pack',
}

export function setWords(set: ReadingSet, system: UnitSystem): string {
  const n = set.rows.length
  const wall = set.kind === 'line' || set.kind === 'grid' ? ` at ${inSystem(metres(set.distanceM), system)}` : ''
  const way = set.kind === 'line' ? (set.along === 'up' ? ', up' : ', across') : ''
  const mode = set.mode === undefined ? '' : `, ${set.mode}`
  if (set.kind === 'grid' && set.picture)
    return `picture of a wall${wall}${mode}: ${n} places${set.picture.burntOut ? `, ${set.picture.burntOut} burnt out: no peak, no angles` : ''}`
  return `${KINDS[set.kind]}${wall}${way}${mode}: ${n} reading${n === 1 ? '' : 's'}`
}

const LENGTHS: Record<LengthSlip['is'], string> = {
  in: 'inches',
  ft: 'feet',
  cm: 'centimetres',
  m: 'metres',
  mm: 'millimetres',
}

export function warningWords(w: ReadingWarning): string {
  switch (w.kind) {
    case 'overRange':
      return `${w.set}: ${lx(w.lx)} is the end of the meter’s range. It says no more than “at least”.`
    case 'unit':
      return `${w.set}: all readings are off by the factor between ${w.slip.is} and ${w.slip.taken}. Was the meter set to ${w.slip.is}?`
    case 'length':
      return `${w.set}: the beam would be ${short(w.slip.factor)} times too narrow. Are the places in ${LENGTHS[w.slip.is]}? Then write “across ${w.slip.is}” over them.`
    case 'standsOut':
      return `${w.set}, reading ${w.row + 1}: ${lx(w.lx)} stands out; ${w.by === 'prediction' ? 'the traced curve says' : 'its neighbours say'} about ${lx(w.expectedLx)}.${slipWords(w)}`
  }
}

function slipWords({ slip }: Extract<ReadingWarning, { kind: 'standsOut' }>): string {
  if (!slip) return ' It is counted as it stands: read it again.'
  const why = { digit: 'a digit twice', point: 'the point in another place', swapped: 'two digits swapped' }[slip.kind]
  return ` Perhaps ${why}: ${plainLx(slip.likely)}? It is counted as it stands.`
}

const plainLx = (value: number): string => `${Number(value.toPrecision(6))} lx`
const lx = (value: number): string => `${significant(value, 3)} lx`

const CAUSES: Record<CauseKey, string> = {
  flux: 'Light of the emitters',
  meter: 'Meter reads',
  wall: 'Distance of the wall',
  lensDistance: 'Lens stands at z',
  focalLength: 'Focal length of the lens',
  tiltX: 'Lens tilted about x',
  tiltY: 'Lens tilted about y',
  lensX: 'Lens beside the axis, x',
  lensY: 'Lens beside the axis, y',
  tunnel: 'Reflectance of the tunnel',
  optic: 'Beam width of the optics',
  arrayX: 'Boards shifted, x',
  arrayY: 'Boards shifted, y',
  dark: 'Dark board',
  darkString: 'Dark string',
  darkChannel: 'Dark channel',
  joint: 'Joint of boards and plate',
  airSpeed: 'Air along the sink',
  fanFlow: 'Flow of the fan',
  sinkResistance: 'Sink to air, joint included',
  ambient: 'Air at the lamp, over what was read',
  cellOhm: 'Resistance of a cell',
  capacity: 'Capacity of a cell',
  charged: 'Charge at switch-on',
  supplyOhm: 'Resistance of the supply',
  supplyVolts: 'Voltage of the supply without load',
  mainWires: 'Main wires and contacts, out and back',
  efficiency: 'Efficiency of the drivers',
}

const UNITS: Record<CauseUnit, string> = {
  factor: ' %',
  share: ' %',
  mm: ' mm',
  deg: '°',
  none: '',
  K: ' K',
  KW: ' K/W',
  Kcm2W: ' K·cm²/W',
  mS: ' m/s',
  mohm: ' mΩ',
  Ah: ' Ah',
  V: ' V',
}

function causeName({ key, board, string }: Pick<FittedCause, 'key' | 'board' | 'string'>): string {
  if (key === 'dark') return `Board ${board} is dark`
  if (key === 'darkString') return `String ${string} of board ${board} is dark`
  if (key === 'darkChannel') return `All boards of channel ${board} are dark`
  return CAUSES[key]
}

const DECIMALS: Partial<Record<CauseUnit, number>> = { deg: 2, KW: 3, Kcm2W: 2, mS: 2, Ah: 2, V: 2 }

/** Of those causes that are lengths or differences of temperatures. */
const INCH: Partial<Record<CauseUnit, { times: number; unit: string; decimals: number }>> = {
  mm: { times: 1 / MM_PER_INCH, unit: ' in', decimals: 3 },
  K: { times: 1.8, unit: ' °F', decimals: 1 },
}

/** "1058.9 mm (1054 to 1065), drawn 1050". */
export function causeValue(c: FittedCause, system: UnitSystem): string {
  if (c.key === 'dark') return 'none of its emitters shines: off, broken or reversed'
  if (c.key === 'darkString') return 'broken or reversed; the others share its current'
  if (c.key === 'darkChannel') return 'its driver is off, or one board in series is broken or reversed'
  const inch = system === 'inch' ? INCH[c.unit] : undefined
  const times = inch?.times ?? (c.unit === 'factor' || c.unit === 'share' ? 100 : 1)
  const unit = inch?.unit ?? UNITS[c.unit]
  const span = Math.max(times * (c.high - c.low), 1e-6)
  const decimals = Math.max(0, Math.min(inch?.decimals ?? DECIMALS[c.unit] ?? 1, 1 - Math.floor(Math.log10(span))))
  const text = (value: number) => fixed(times * value, decimals)
  const open = (isOpen: boolean, word: string) => (isOpen ? `${word} ` : '')
  const drawn = c.unit === 'factor' ? ' of what is drawn' : `, drawn ${text(c.drawn)}${unit}`
  return `${text(c.value)}${unit} (${open(c.openLow, 'under')}${text(c.low)} to ${open(c.openHigh, 'over')}${text(c.high)})${drawn}`
}

export const explanationName = ({ causes }: Pick<Explanation, 'causes'>): string =>
  causes.length === 0 ? 'As drawn: nothing differs' : causes.map(causeName).join(' and ')

export function probabilityText(p: number): string {
  if (p < 0.01) return 'under 1 %'
  return p > 0.99 ? 'over 99 %' : `${Math.round(100 * p)} %`
}

/** How well the lamp as drawn agrees with the readings. */
export function agreementWords({ asDrawn, points }: FitResult): string {
  const ratio = Math.round(100 * asDrawn.medianRatio)
  const level = `Readings are ${ratio} % of the prediction (median of ${points.length}).`
  const birge = significant(asDrawn.birge, 2)
  if (asDrawn.birge < 1.3)
    return `${level} They agree: they scatter ${birge} times as much as their stated uncertainty and that of the trace allow.`
  return `${level} They differ: they scatter ${birge} times as much as their stated uncertainty and that of the trace allow (1 is what chance gives).`
}

/** Scatter up to which a best fit is one: our choice. */
const SCATTER = 1.7

/** The best of what was tried fits the readings; otherwise neither chances nor values mean anything. */
export const isExplained = ({ explanations }: { explanations: readonly Explanation[] }): boolean =>
  Math.min(...explanations.map((e) => e.birge)) <= SCATTER

/** Whether the likeliest explanation is good enough, and what it doesn't say. */
export function verdictWords({ explanations, points }: FitResult): string {
  const [first, second] = explanations
  if (!first) return ''
  if (!isExplained({ explanations }))
    return `None of what was tried explains the readings: the best still scatters ${significant(first.birge, 2)} times as much as stated. Look for slips, stray light, or two causes at once that are not in the list. Until then the values below mean little.`
  const both = first.causes.length > 0 && second && second.probability > 0.5 * first.probability
  if (both)
    return `${explanationName(first)}, or: ${explanationName(second)}. These readings hardly tell the two apart.`
  if (first.causes.length === 0) return 'The lamp agrees with its drawing as far as these readings can tell.'
  const few = points.length < 6 ? ' Few readings: take more before you change anything.' : ''
  return `Likeliest: ${explanationName(first)}.${few}`
}

export function nextWords(next: NextReading | null, explanations: readonly Explanation[], system: UnitSystem): string {
  if (!next) return ''
  const [a, b] = next.between.map((i) => explanations[i])
  if (!a || !b) return ''
  const { xMm, yMm, distanceMm } = next.place
  const where =
    xMm === 0 && yMm === 0
      ? `on the axis at ${metres(distanceMm / 1000)}`
      : `at ${metres(distanceMm / 1000)}, ${xMm !== 0 ? `${sizeText(`${xMm}`, xMm)} across` : `${sizeText(`${yMm}`, yMm)} up`}`
  if (next.apart < 2)
    return `No reading of lux tells “${explanationName(a)}” from “${explanationName(b)}”: look at the part itself, or read a lamp of known candela with the same meter.`
  return `To tell them apart, read ${inSystem(where, system)}: ${lx(next.lx[0])} if “${explanationName(a)}”, ${lx(next.lx[1])} if “${explanationName(b)}”.`
}

export const CAUSES_NOTE =
  'Each cause is fitted alone and in pairs by retracing. Percentages weigh them against one another by Schwarz’s criterion (1978): only what was tried is in them. Change nothing on the lamp by them alone: look at the part first.'

const RUNNING: Record<RunningFit['kind'], { title: string; what: string }> = {
  heat: { title: 'Heat: temperatures against the lamp’s own run', what: 'temperature' },
  power: { title: 'Power: volts and amperes against the lamp’s own run', what: 'reading' },
}

export const runningTitle = ({ kind }: RunningFit): string => RUNNING[kind].title

/** What was read and what the lamp as drawn gives, at the reading that is off most. */
export function runningWords({ kind, points, asDrawn, modes }: RunningFit, system: UnitSystem): string {
  const worst = points.reduce((a, b) =>
    Math.abs(b.value - b.predicted) / b.u > Math.abs(a.value - a.predicted) / a.u ? b : a,
  )
  const held = [...new Set(modes.map((m) => m.mode))].join(', ')
  const value = (x: number) =>
    worst.field === 'plateC' || worst.field === 'boardC'
      ? inSystem(inEither(`${fixed(x, 1)} °C`, `${fixed(fahrenheit(x), 1)} °F`), system)
      : `${fixed(x, 2)} ${FIELD_UNITS[worst.field]}`
  const off = `Farthest off: ${FIELD_WORDS[worst.field]} after ${duration(worst.atS)}, ${value(worst.value)} read, ${value(worst.predicted)} as drawn.`
  const agrees = asDrawn.birge < 1.3 ? 'They agree' : 'They differ'
  return `${points.length} ${RUNNING[kind].what}s, held against mode ${held}. ${agrees}: they scatter ${significant(asDrawn.birge, 2)} times as much as stated. ${off}`
}

const FIELD_WORDS: Record<RunningFit['points'][number]['field'], string> = {
  plateC: 'plate',
  boardC: 'board',
  packV: 'pack',
  packA: 'pack',
  lampV: 'at the drivers',
}
const FIELD_UNITS = {
  packV: 'V',
  packA: 'A',
  lampV: 'V',
} as const

export function runningVerdict({ explanations, points }: RunningFit): string {
  const [first, second] = explanations
  if (!first) return ''
  if (!isExplained({ explanations }))
    return `None of what was tried explains them: the best still scatters ${significant(first.birge, 2)} times as much as stated. Look at where and when was read, and in which mode.`
  if (second && second.probability > 0.5 * first.probability)
    return `${explanationName(first)}, or: ${explanationName(second)}. These readings hardly tell the two apart.`
  if (first.causes.length === 0) return 'They agree with the drawing as far as these readings can tell.'
  return `Likeliest: ${explanationName(first)}.${points.length < 6 ? ' Few readings: take more before you change anything.' : ''}`
}

/** What such readings can't tell. */
export const RUNNING_NOTES: Record<RunningFit['kind'], string> = {
  heat: 'One cause at a time. Correlations of convection count as known to 5 %: a value is what the lamp’s heat model needs to give these temperatures. The joint shows only where a board’s own temperature was read.',
  power:
    'One cause at a time. Read at two loads or more, and the volts at the drivers too: a supply’s resistance, a lower voltage and wires look alike at one load.',
}
