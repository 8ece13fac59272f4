// Every figure that can be wished for: one record each. The sweep's, and what needs no light or the run of heat and power.
import { FIGURE_NAMES } from '../beam/sheet.ts'
import { isHazard, SWEPT_NAMES, type SweptName } from '../sweep/figures.ts'

export type WishName = SweptName | 'lengthMm' | 'widthMm' | 'massG' | 'junctionC' | 'severeFindings'

/**
 * What has to be done for a figure: nothing but the document; heat and power of every mode; light, whose axis backward tracing knows alone; all
 * of a sheet, with hot spots and findings.
 */
export type Effort = 'lamp' | 'heat' | 'axis' | 'light' | 'whole'

export interface WishFigure {
  name: WishName
  /** As it is typed on a command line. */
  word: string
  effort: Effort
  /** The upper end of ± decides. */
  hazard: boolean
}

/** Read with hot spots and findings alone. */
const WHOLE: ReadonlySet<SweptName> = new Set<SweptName>([
  'inverseSquareFromM',
  'lensEvenness',
  'lensVariation',
  'faceEvenness',
  'faceVariation',
])

const WORDS: Partial<Record<WishName, string>> = {
  axialIntensityCd: 'candela',
  peakIntensityCd: 'peak',
  fluxOutLm: 'lumens',
  beamAngleDeg: 'beam',
  fieldAngleDeg: 'field',
  targetEvenness: 'evenness',
  targetCentreLx: 'lux',
  spillOutsideBeam: 'spill',
  'hot.front': 'front',
  'hot.lens': 'lens',
  'hot.wall': 'wall',
  'hot.face': 'face',
  lengthMm: 'length',
  widthMm: 'width',
  massG: 'mass',
  junctionC: 'junction',
  severeFindings: 'severe',
}

const effortOf = (name: SweptName): Effort => {
  if (name === 'axialIntensityCd') return 'axis'
  return WHOLE.has(name) || !(FIGURE_NAMES as readonly string[]).includes(name) ? 'whole' : 'light'
}

export const WISH_FIGURES: readonly WishFigure[] = [
  ...SWEPT_NAMES.map((name) => ({ name, effort: effortOf(name), hazard: isHazard(name) })),
  { name: 'lengthMm' as const, effort: 'lamp' as const, hazard: false },
  { name: 'widthMm' as const, effort: 'lamp' as const, hazard: false },
  { name: 'massG' as const, effort: 'lamp' as const, hazard: false },
  { name: 'junctionC' as const, effort: 'heat' as const, hazard: true },
  { name: 'severeFindings' as const, effort: 'whole' as const, hazard: true },
].map((figure) => ({ ...figure, word: WORDS[figure.name] ?? figure.name }))

const BY_NAME = new Map(WISH_FIGURES.map((figure) => [figure.name, figure]))

export function wishFigure(name: WishName): WishFigure {
  const figure = BY_NAME.get(name)
  if (!figure) throw new Error(`choose: no figure called ${name}`)
  return figure
}
