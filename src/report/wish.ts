// Words for a search from a wish: what physics forbids, what a kind can't give, what a proposal gives and costs.
import type { Change, Forbidden } from '../job/wish/feasible.ts'
import type { Declined, Miss, Proposal } from '../job/wish/result.ts'
import type { Wish } from '../job/wish/wish.ts'
import type { Lamp } from '../lamp/schema.ts'
import { inEither, inSystem, sizeNumber, sizeText } from '../num/quantity.ts'
import { T95 } from '../num/stats.ts'
import { fahrenheit, KG_PER_POUND, poundsText, type UnitSystem } from '../num/unitSystem.ts'
import { remedyWords } from './answerWords.ts'
import { fixed, short, shortDown, shortUp, significant, withError } from './numbers.ts'

/** Over the least, and under the most, by rounding: what is named is allowed. */
const up = shortUp
const down = shortDown

const FORBIDDEN: Record<Forbidden['by'], (wanted: number, most: number) => string> = {
  luminance: (wanted, most) =>
    `${short(wanted)} cd can’t be had: through the widest opening allowed the emitters’ luminance gives ${down(most)} cd at the most (I ≤ L · A · τ, conservation of étendue).`,
  flux: (wanted, most) =>
    `The target needs ${short(wanted)} lm; so many emitters give ${down(most)} lm at the most, all of it on the target.`,
  energy: (wanted, most) =>
    `The light on the target takes ${up(wanted)} Wh at the least; the pack holds ${short(most)} Wh.`,
}

export const forbiddenWords = ({ by, wanted, most }: Forbidden): string => FORBIDDEN[by](wanted, most)

const AT_LEAST = {
  widthMm: (x: number) => `a width of ${sizeText(up(x), x, 2, 'up')} or more`,
  emitters: (x: number) => `${fixed(x, 0)} emitters or more`,
  cellsInParallel: (x: number) => `${fixed(x, 0)} or more cells in parallel`,
}
const AT_MOST = {
  candela: (x: number) => `at most ${down(x)} cd`,
  lux: (x: number) => `at most ${down(x)} lx`,
  minutes: (x: number) => `at most ${down(x)} min`,
}

function changeWords(change: Change): string {
  if (change.what === 'emitter') return `emitters of the class ${change.id}`
  return 'atLeast' in change ? AT_LEAST[change.what](change.atLeast) : AT_MOST[change.what](change.atMost)
}

export const changesWords = ({ changes }: Forbidden, system: UnitSystem): string =>
  inSystem(`Any one of these allows it: ${changes.map(changeWords).join('; ')}.`, system)

const DECLINED: Record<Declined['because'], string> = {
  light: 'not enough light within the limits of the wish',
  heat: 'no cooling that fits keeps its junctions cool for so long',
  fit: 'its smallest lamp is larger than the wish allows',
  pack: 'the pack at hand gives too little power for so long',
  danger: 'every lamp of it that was tried has a severe finding',
}

/** unit: cd or lx, as was wished. */
export function declinedWords({ because, most, severe }: Declined, unit: string): string {
  if (severe?.length) return `${DECLINED[because]}. ${severe.map((f) => f.title).join(' ')}`
  return because === 'light' && most !== null
    ? `${DECLINED.light}: about ${significant(most, 2)} ${unit}.`
    : `${DECLINED[because]}.`
}

const tooMuch = (mm: number): string => sizeText(fixed(Math.ceil(mm), 0), mm, 1, 'up')

const MISSES: Record<Miss['what'], (miss: Miss) => string> = {
  light: ({ has, wished }) => `${fixed(100 * (1 - has / wished), 0)} % too little light`,
  minutes: ({ has, wished }) => `full light for ${short(has)} min, ${short(wished)} were wished`,
  lengthMm: ({ has, wished }) => `${tooMuch(has - wished)} too long`,
  widthMm: ({ has, wished }) => `${tooMuch(has - wished)} too wide`,
  massG: ({ has, wished }) =>
    `${inEither(`${short((has - wished) / 1000)} kg`, poundsText((has - wished) / 1000))} too heavy`,
}

export const missWords = (miss: Miss, system: UnitSystem): string => inSystem(MISSES[miss.what](miss), system)

interface ProposalRow {
  label: string
  unit: string
  /** Of one proposal; empty: not known. */
  of(p: Proposal): string
}

const figure = (name: 'axialIntensityCd' | 'targetCentreLx' | 'targetMeanLx' | 'beamAngleDeg') => (p: Proposal) => {
  const found = p.figures[name]
  if (!found) return ''
  const { value, error } = withError(found)
  return error === 'exact' || error === '' ? significant(found.value, 3) : `${value} ${error}`
}

/** Hot side: the upper end of ±. */
function frontKWm2(p: Proposal): string {
  const spot = p.figures['hot.front']
  return spot ? significant(spot.value + T95 * spot.se, 2) : ''
}

const MM = inEither('mm', 'in')
const KG = inEither('kg', 'lb')
const mass = (kg: number): string => inEither(significant(kg, 2), significant(kg / KG_PER_POUND, 2))
const hot = (degrees: number): string => fixed(Math.ceil(degrees), 0)

const PROPOSAL_ROWS: readonly ProposalRow[] = [
  { label: 'On the axis', unit: 'cd', of: figure('axialIntensityCd') },
  { label: 'Target, centre', unit: 'lx', of: figure('targetCentreLx') },
  { label: 'Target, mean', unit: 'lx', of: figure('targetMeanLx') },
  { label: 'Beam angle', unit: '°', of: figure('beamAngleDeg') },
  // The upper ends decide.
  { label: 'In front, up to', unit: 'kW/m²', of: frontKWm2 },
  { label: 'Full light', unit: 'min', of: (p) => (p.fullMinutes === null ? 'no end' : significant(p.fullMinutes, 2)) },
  { label: 'Power', unit: 'W', of: (p) => significant(p.inputW, 2) },
  { label: 'Length', unit: MM, of: (p) => sizeNumber(fixed(Math.ceil(p.lengthMm), 0), p.lengthMm, 1, 'up') },
  { label: 'Width', unit: MM, of: (p) => sizeNumber(fixed(Math.ceil(p.widthMm), 0), p.widthMm, 1, 'up') },
  { label: 'Mass', unit: KG, of: (p) => mass(p.massG / 1000) },
  { label: 'of it the head', unit: KG, of: (p) => mass(p.headG / 1000) },
  { label: 'Boards', unit: '', of: (p) => fixed(p.boards, 0) },
  { label: 'Emitters', unit: '', of: (p) => fixed(p.emitters, 0) },
  { label: 'Current in each', unit: 'A', of: (p) => significant(p.currentA, 3) },
  {
    label: 'Junction',
    unit: inEither('°C', '°F'),
    of: (p) => inEither(hot(p.junctionC), hot(fahrenheit(p.junctionC))),
  },
  { label: 'Fans', unit: '', of: ({ fans }) => (fans ? `${fans.count} of ${fans.sizeMm} mm` : 'none') },
  { label: 'Drivers', unit: '', of: (p) => fixed(p.drivers, 0) },
  { label: 'Cells', unit: '', of: (p) => fixed(p.cells, 0) },
  { label: 'Parts to buy or make', unit: '', of: (p) => fixed(p.pieces, 0) },
]

/** What each gives and costs, side by side; of the target only where the wish says how far away it is. */
export const proposalRows = ({ distanceM }: Wish, system: UnitSystem): readonly ProposalRow[] =>
  PROPOSAL_ROWS.filter((row) => distanceM !== undefined || row.unit !== 'lx').map((row) => ({
    ...row,
    unit: inSystem(row.unit, system),
    of: (p) => inSystem(row.of(p), system),
  }))

/** Of a severe finding why it is there still, and what is to be done. */
export const severeWords = ({ rule, title }: Proposal['severe'][number], lamp: Lamp): string =>
  `${title} No lamp of this kind with so much light lacks it: ${remedyWords({ rule, title }, lamp)}.`

/** Under the proposals. */
export const COSTS_NOTE =
  'Mass is of parts whose mass is known, with typical fans. Money and hours aren’t computed: parts, boards and mass stand for them. The sun is traced inside the lamp; eyes and things in the way are on the danger sheet of the lamp that you take.'
