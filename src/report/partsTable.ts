// The parts list in words: what each row is, its size, its mass and price; sums; and a table for spreadsheets. The same for page and command line.

import type { MassBasis, Part, PartSize, StepId } from '../bill/part.ts'
import type { MassSum, NotListed, PartsList } from '../bill/partsList.ts'
import { counted, degreesC, downThree, plain, upThree } from '../checks/words.ts'
import { type CsvCell, csvText } from '../files/csv.ts'
import type { Workshop } from '../lamp/schema.ts'
import { gaugeInEither } from '../library/wireGauge.ts'
import type { DecimalMark } from '../num/decimalMark.ts'
import { allInSystem, inEither, inSystem, sizeNumber, sizeText } from '../num/quantity.ts'
import { KG_PER_POUND, M_PER_FOOT, MM_PER_INCH, poundsText, squareInches, type UnitSystem } from '../num/unitSystem.ts'
import { gaugeWords } from '../power/wire.ts'
import { safeCell } from './csvCells.ts'
import { fixedUp } from './numbers.ts'

export const STEP_TITLES: Record<StepId, string> = {
  face: 'Face plate',
  sink: 'Sink and air',
  emitters: 'Emitters',
  boards: 'Boards on the face',
  protection: 'Sensor and cut-out',
  drivers: 'Drivers',
  wiring: 'Wiring',
  beforePower: 'Measuring, without power',
  optics: 'Optics',
  tunnel: 'Tunnel',
  lens: 'Lens and its ring',
  cover: 'Cover',
  supply: 'Supply',
  channels: 'Channels, one by one',
  powerUp: 'First power-up of the whole lamp',
}

/** Sizes of the lamp's own parts to a tenth of a millimetre. */
const tenths = (mm: number): string => String(Number(mm.toFixed(1)))
/** In both systems of units: with the unit, the number alone, two of them. */
const length = (mm: number): string => sizeText(tenths(mm), mm)
const number = (mm: number): string => sizeNumber(tenths(mm), mm)
const by = (a: number, b: number): string => `${number(a)} × ${number(b)}`
const lengths = (a: number, b: number): string => `${number(a)} × ${length(b)}`
const thickness = (mm: number): string => sizeText(plain(mm), mm)
const surface = (cm2: number): string => inEither(`${plain(cm2)} cm²`, squareInches(100 * cm2))
const thread = (mm: number): string => `M${Number(mm.toPrecision(3))}`

const OPTICS = { collimator: 'Collimator', reflector: 'Reflector' } as const
const ELEMENTS = {
  fresnel: 'Fresnel lens',
  solid: 'Solid lens',
  ideal: 'Ideal lens, stands for one still to be chosen',
  cover: 'Cover pane',
  diffuser: 'Diffuser film',
} as const
const SCREWS = {
  board: 'Screw for boards',
  ring: 'Screw for the lens ring',
  standOff: 'Screw for the stand-offs’ feet',
} as const
const RUNS = { main: 'supply', group: 'to a group', channel: 'to the drivers', board: 'to the boards' } as const

/** What a part is; the document's own name follows in quotes. */
export function partWords({ size, name }: Pick<Part, 'size' | 'name'>): string {
  const what = kindWords(size)
  return name === null ? what : `${what} “${name}”`
}

const KINDS: Record<Exclude<PartSize['of'], 'screw' | 'driver' | 'wire' | 'optic' | 'element' | 'cell'>, string> = {
  plate: 'Face plate',
  fins: 'Fins',
  pins: 'Pins',
  ratedSink: 'Sink by its data sheet',
  fan: 'Fan',
  emitter: 'Emitter',
  board: 'Board',
  spacer: 'Spacer under a board',
  wedge: 'Wedge under a board',
  compound: 'Thermal compound, area',
  washer: 'Washer',
  nut: 'Nut for the lens ring',
  cutOut: 'Thermal cut-out',
  sensor: 'Temperature sensor',
  contacts: 'Pair of contacts (connector)',
  fuse: 'Fuse',
  fuseHolder: 'Fuse holder',
  contactor: 'Contactor, relay or switch',
  relay: 'Relay or contactor of a group',
  precharge: 'Precharge resistor',
  stretch: 'Tunnel sheet',
  step: 'Tunnel step',
  ring: 'Lens ring',
  standOff: 'Stand-off',
  lensCover: 'Cover for the lens: opaque, of what can’t burn',
  packProtection: 'Protection board of the pack',
  supply: 'Supply',
}

function kindWords(size: PartSize): string {
  switch (size.of) {
    case 'screw':
      return SCREWS[size.holds]
    case 'driver':
      return `Driver (${size.kind})`
    case 'wire':
      return `Wire, ${size.colour}, ${RUNS[size.run]}`
    case 'optic':
      return OPTICS[size.kind]
    case 'element':
      return ELEMENTS[size.kind]
    case 'cell':
      return `Cell, ${size.chemistry}`
    default:
      return KINDS[size.of]
  }
}

const acrossWords = (round: boolean, [x, y]: readonly [number, number]): string =>
  round ? `⌀ ${length(x)}` : lengths(x, y)

/** Its size in words; empty where the document has none. */
export const sizeWords = (size: PartSize, system: UnitSystem = 'metric'): string => inSystem(sizeInBoth(size), system)

function sizeInBoth(size: PartSize): string {
  switch (size.of) {
    case 'plate':
      return `${by(size.widthMm, size.heightMm)} × ${length(size.thicknessMm)}, ${size.shape}`
    case 'fins':
      return `${size.fins} of ${lengths(size.heightMm, size.thicknessMm)}, ${length(size.spacingMm)} apart, ${length(size.allLengthMm)} together`
    case 'pins':
      return `${size.pins} of ⌀ ${lengths(size.diameterMm, size.heightMm)}, ${length(size.spacingMm)} apart`
    case 'ratedSink':
      return `${plain(size.resistanceKW)} K/W${size.forced ? ', with its fan or pump' : ''}`
    case 'emitter':
      return `⌀ ${length(size.bodyMm)}, ${plain(size.currentA)} A`
    case 'board':
      return `${lengths(size.widthMm, size.heightMm)}, ${counted(size.emitters, 'emitter')}`
    case 'spacer':
      return `${length(size.heightMm)} high`
    case 'wedge':
      return `${tenths(size.tiltDeg)}°${size.heightMm > 0 ? `, ${length(size.heightMm)} high` : ''}`
    case 'screw':
    case 'washer':
    case 'nut':
      return thread(size.threadMm)
    case 'cutOut':
      return `opens at ${degreesC(size.opensC)}, ${size.closesC === null ? 'stays open' : `closes at ${degreesC(size.closesC)}`}`
    case 'stretch':
      return stretchWords(size)
    case 'step':
      return `at ${length(size.zMm)}, ${surface(size.areaCm2)} of ${thickness(size.thicknessMm)}`
    case 'element':
      return elementWords(size)
    case 'optic':
      return `exit ⌀ ${length(size.exitMm)}${size.heightMm === null ? '' : `, ${length(size.heightMm)} high`}`
    case 'ring':
      return `${acrossWords(size.round, size.innerMm)} inside, ${acrossWords(size.round, size.outerMm)} outside, lip ${length(size.lipMm)}, ${length(size.heightMm)} high in all`
    case 'standOff':
      return `${length(size.lengthMm)} long, ${thread(size.threadMm)}`
    case 'lensCover':
      return `at least ${sizeText(tenths(Math.ceil(10 * size.atLeastMm - 1e-9) / 10), size.atLeastMm, 2, 'up')} across`
    case 'fan':
    case 'compound':
    case 'sensor':
      return ''
    default:
      return electricWords(size)
  }
}

type Electric = Extract<
  PartSize,
  {
    of:
      | 'driver'
      | 'wire'
      | 'contacts'
      | 'fuse'
      | 'fuseHolder'
      | 'contactor'
      | 'relay'
      | 'precharge'
      | 'cell'
      | 'packProtection'
      | 'supply'
  }
>

function electricWords(size: Electric): string {
  const atMost = (maxA: number | null, maxV: number | null) =>
    [...(maxA === null ? [] : [`${downThree(maxA)} A`]), ...(maxV === null ? [] : [`${downThree(maxV)} V DC`])].join(
      ', ',
    )
  switch (size.of) {
    case 'driver':
      return `${upThree(size.inputMinV)} to ${downThree(size.inputMaxV)} V in, ${downThree(size.maxOutputA)} A at most`
    case 'wire':
      return `${gaugeInEither(gaugeWords(size.gauge))}, insulation ${degreesC(size.insulationC)}; ${metres(upThree(size.laidM), size.laidM)} laid`
    case 'contacts':
      return atMost(size.maxA, size.maxV)
    case 'fuse':
    case 'fuseHolder':
      return `${plain(size.amps)} A, ${plain(size.volts)} V, ${size.kind ?? 'blade, taken as typical'}`
    case 'contactor':
    case 'relay':
      return `${atMost(size.maxA, size.maxV)}${size.breaksA === null ? '' : `, breaks ${downThree(size.breaksA)} A`}`
    case 'precharge':
      return `${plain(size.ohm)} Ω`
    case 'cell':
      return `${plain(size.cellAh)} Ah, ${size.series} in series × ${size.parallel} in parallel`
    case 'packProtection':
      return `${plain(size.amps)} A`
    case 'supply':
      return `${plain(size.volts)} V, ${plain(size.maxA)} A`
  }
}

function stretchWords(s: Extract<PartSize, { of: 'stretch' }>): string {
  const end = (a: number, b: number) => (s.rectangle ? by(a, b) : number(a))
  const last = (a: number, b: number) => (s.rectangle ? lengths(a, b) : length(a))
  const shape = s.rectangle ? 'rectangle' : s.sides === 0 ? 'round' : `${s.sides} sides, across flats`
  const seam = s.flapMm === null ? 'edge on edge' : `a flap of ${length(s.flapMm)} counted`
  return `${end(s.inMm, s.inHeightMm)} to ${last(s.outMm, s.outHeightMm)} (${shape}), ${number(s.fromZMm)} to ${length(s.toZMm)}; ${surface(s.areaCm2)} of ${thickness(s.thicknessMm)}, ${seam}`
}

function elementWords({ shape, widthMm, heightMm, thicknessMm, zMm }: Extract<PartSize, { of: 'element' }>): string {
  const across = shape === 'round' ? `⌀ ${number(widthMm)}` : by(widthMm, heightMm)
  const whole = shape === 'round' ? `⌀ ${length(widthMm)}` : lengths(widthMm, heightMm)
  return `${thicknessMm === null ? whole : `${across} × ${thickness(thicknessMm)}`}, at ${length(zMm)}`
}

const metres = (number: string, m: number): string => inEither(`${number} m`, `${fixedUp(m / M_PER_FOOT, 1)} ft`)

/** A unit that parts are counted and priced in, as it is shown: so many of it make one of the document's. */
export function shownPartUnit(
  unit: Part['unit'],
  system: UnitSystem,
): { word: Part['unit'] | 'ft' | 'in²'; ofOne: number } {
  if (system === 'inch' && unit === 'm') return { word: 'ft', ofOne: 1 / M_PER_FOOT }
  if (system === 'inch' && unit === 'cm²') return { word: 'in²', ofOne: 100 / MM_PER_INCH ** 2 }
  return { word: unit, ofOne: 1 }
}

export const amountWords = ({ amount, unit }: Pick<Part, 'amount' | 'unit'>, system: UnitSystem = 'metric'): string => {
  if (unit === 'piece') return String(amount)
  return inSystem(unit === 'm' ? metres(fixedUp(amount, 2), amount) : surface(amount), system)
}

/** Grams up to a kilogram, then kilograms; ounces up to a pound, then pounds; three digits. */
export const massWords = (g: number, system: UnitSystem = 'metric'): string => inSystem(massInBoth(g), system)

const massInBoth = (g: number): string =>
  inEither(g >= 999.5 ? `${plain(g / 1000)} kg` : `${plain(g)} g`, poundsText(g / 1000))

const BASIS: Record<MassBasis, string> = {
  weighed: 'weighed',
  stated: 'stated',
  computed: 'worked out',
  typical: 'typical',
}

/** “1.02 kg, worked out”; an unknown mass says so. */
export const massOf = ({ mass }: Pick<Part, 'mass'>, system: UnitSystem = 'metric'): string =>
  mass === null ? 'not known' : `${massWords(mass.g, system)}, ${BASIS[mass.basis]}`

export const moneyWords = (value: number, currency: string): string => `${value.toFixed(2)} ${currency}`.trim()

/** Names of the rows of these keys, each once. */
const namesOf = (list: PartsList, keys: readonly string[]): string => {
  const wanted = new Set(keys)
  const names = list.parts.filter((p) => wanted.has(p.key)).map((p) => lowered(partWords(p)))
  return [...new Set(names)].join('; ')
}

const lowered = (text: string): string => (/^.\p{Ll}/u.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text)

/** Masses, centre of gravity, cost: one sentence each. What isn't known is named, never counted as nothing. */
export function sumSentences(list: PartsList, system: UnitSystem = 'metric'): string[] {
  const { cost } = list
  const sentences = [
    massSentence(list, 'The lamp itself', list.mass),
    centreSentence(list),
    massSentence(list, 'Beside it (supply, drivers and wires to them)', list.apart),
    `${cost.priced} of ${counted(cost.rows, 'row')} priced${cost.priced === 0 ? '.' : `: ${moneyWords(cost.total, cost.currency)}.`}`,
    ...(list.unused.length > 0
      ? [`Prices or masses are typed for what this list no longer has: ${list.unused.join(', ')}.`]
      : []),
  ]
  return allInSystem(sentences, system)
}

function massSentence(list: PartsList, what: string, { knownG, typicalG, unknown }: MassSum): string {
  const typical = typicalG > 0 ? `, of it ${massInBoth(typicalG)} by typical sizes or densities` : ''
  const missing = unknown.length > 0 ? ` Not counted, since its mass isn’t known: ${namesOf(list, unknown)}.` : ''
  return knownG > 0
    ? `${what}: ${massInBoth(knownG)} as far as it is known${typical}.${missing}`
    : `${what}: no mass is known.${missing}`
}

function centreSentence(list: PartsList): string {
  const { centre } = list
  if (!centre) return 'Centre of gravity: nothing has both a mass and a place.'
  const { xMm, yMm, zMm, ofG, without } = centre
  const off = Math.hypot(xMm, yMm) < 0.05 ? 'on the axis' : `x ${number(xMm)}, y ${length(yMm)} off the axis`
  const along = `${length(Math.abs(zMm))} ${zMm < 0 ? 'behind' : 'in front of'} the face`
  const left = without.length > 0 ? ` Without a place, and so left out: ${namesOf(list, without)}.` : ''
  return `Centre of gravity of what has a mass and a place (${massInBoth(ofG)}): ${along}, ${off}.${left}`
}

const NOT_LISTED: Record<NotListed, string> = {
  boardScrews: 'screws of boards whose holes aren’t in the document',
  ringCarrier: 'what carries the lens ring, which stands beside the face',
  elementHolders: 'holders of further lenses, panes and films',
  idealLens: 'a real lens in place of the ideal one',
  air: 'what moves the air',
  controls: 'mode switch and control electronics',
  glue: 'glue, rivets, solder, heat-shrink, ties and glands',
  housing: 'housing and handle',
  stand: 'stand',
}

const WORKSHOP: Partial<Record<keyof Workshop, string>> = {
  boardScrewMm: 'screws of boards',
  tunnelThicknessMm: 'thickness of the tunnel’s sheet',
  tunnelDensityKgM3: 'its density',
  tunnelMaterial: 'its material',
  seam: 'its seam',
  lensRing: 'lens ring and its screws',
  printer: 'printed plastic',
}

/** What no row stands for, what is taken as typical, how much wire is added. */
export function noteSentences(list: PartsList, system: UnitSystem = 'metric'): string[] {
  const { typicalWorkshop, wireAllowance, assumed, notListed } = list
  const typical = typicalWorkshop.flatMap((entry) => WORKSHOP[entry] ?? [])
  const hasWire = list.parts.some((p) => p.size.of === 'wire')
  return allInSystem(
    [
      ...assumed,
      ...(typical.length > 0 ? [`Taken as typical, since the document doesn’t say: ${typical.join(', ')}.`] : []),
      ...(hasWire
        ? [`Wire: single conductors, out and back, with ${Math.round(100 * wireAllowance)} % more for slack and ends.`]
        : []),
      `Not in this list: ${notListed.map((id) => NOT_LISTED[id]).join('; ')}.`,
    ],
    system,
  )
}

const headOf = (isInch: boolean) => [
  ...['key', 'step', 'part', 'name', 'size', 'material', 'amount', 'unit'],
  ...[isInch ? 'mass_lb' : 'mass_g', 'mass_basis', 'mass_source', 'where'],
  ...(isInch ? ['x_in', 'y_in', 'z_in'] : ['x_mm', 'y_mm', 'z_mm']),
  ...['typical', 'price', 'cost', 'currency'],
]

/** RFC 4180; a row a part, in the order of assembly. Masses of all pieces; empty: not known. */
export function partsCsv(
  { parts, cost: { currency } }: PartsList,
  decimal: DecimalMark = '.',
  system: UnitSystem = 'metric',
): string {
  const isInch = system === 'inch'
  const short = (x: number | null | undefined): number | null => (x == null ? null : Number(x.toFixed(3)))
  const rows = parts.map((p): CsvCell[] => [
    safeCell(p.key),
    safeCell(STEP_TITLES[p.step]),
    safeCell(kindWords(p.size)),
    safeCell(p.name ?? ''),
    safeCell(sizeWords(p.size, system)),
    safeCell(p.material ?? ''),
    short(p.amount * shownPartUnit(p.unit, system).ofOne),
    shownPartUnit(p.unit, system).word,
    short(p.mass && (isInch ? p.mass.g / 1000 / KG_PER_POUND : p.mass.g)),
    p.mass ? BASIS[p.mass.basis] : '',
    safeCell(p.mass?.source ?? ''),
    p.where,
    ...(p.placeMm ?? [null, null, null]).map((mm) => short(mm !== null && isInch ? mm / MM_PER_INCH : mm)),
    p.assumed ? 'yes' : '',
    isInch && p.unit !== 'piece' ? short(p.price && p.price / shownPartUnit(p.unit, system).ofOne) : p.price,
    short(p.cost),
    safeCell(currency),
  ])
  return csvText([headOf(isInch), ...rows], decimal)
}
