// What light passes on its way through a lamp, in words: stretches of the tunnel with their finishes, steps, lens, covers and films.

import {
  elementsOf,
  isRectangle,
  pieceHalves,
  pieceReachMm,
  type RowElement,
  type Stretch,
  stretchesOf,
} from '../lamp/assembly.ts'
import { elementSpan } from '../lamp/body.ts'
import type { Lamp, Tunnel } from '../lamp/schema.ts'
import { lensFocalMm, materialOf } from '../library/lensMaterial.ts'
import { allInSystem, inEither, sizeNumber, sizeText } from '../num/quantity.ts'
import type { UnitSystem } from '../num/unitSystem.ts'

/** A line for each stretch, or for a run of many that one finish covers without a step; steps between them. Names are as in the document: escape them. */
export function tunnelWords({ tunnel }: Lamp, system: UnitSystem = 'metric'): string[] {
  if (!tunnel) return allInSystem(['No tunnel.'], system)
  const runs: Stretch[][] = []
  for (const stretch of stretchesOf(tunnel)) {
    const run = runs.at(-1)
    const before = run?.at(-1)
    if (run && before && finishKey(before) === finishKey(stretch) && !isStep(before, stretch)) run.push(stretch)
    else runs.push([stretch])
  }
  const lines: string[] = []
  let end: Stretch | undefined
  for (const run of runs) {
    const groups = run.length > FEW ? [run] : run.map((s) => [s])
    for (const group of groups) {
      const [first] = group
      const last = group.at(-1)
      if (!first || !last) continue
      if (end && isStep(end, first))
        lines.push(`Step at ${mm(first.zInMm)} from ${sizeOf(tunnel, end, 'out')} to ${sizeOf(tunnel, first, 'in')}.`)
      lines.push(stretchWords(tunnel, group, first, last))
      end = last
    }
  }
  return allInSystem(lines, system)
}

/** So many stretches of one curve are a line each. */
const FEW = 4

const finishKey = ({ reflectance, specularShare, scatterDeg, reflectanceByNm, finish }: Stretch) =>
  JSON.stringify([reflectance, specularShare, scatterDeg, reflectanceByNm, finish])

const isStep = (below: Stretch, above: Stretch): boolean =>
  Math.abs(below.outMm - above.inMm) > 1e-6 || Math.abs(below.outHeightMm - above.inHeightMm) > 1e-6

const sizeOf = (tunnel: Tunnel, s: Stretch, end: 'in' | 'out'): string => {
  const [width, height] = end === 'in' ? [s.inMm, s.inHeightMm] : [s.outMm, s.outHeightMm]
  return isRectangle(tunnel) ? `${number(width)} × ${mm(height)}` : mm(width)
}

const sectionOf = (tunnel: Tunnel): string =>
  isRectangle(tunnel) ? 'rectangular' : tunnel.sides === 0 ? 'round' : `${tunnel.sides} sides`

function stretchWords(tunnel: Tunnel, group: readonly Stretch[], first: Stretch, last: Stretch): string {
  const what = group.length > 1 ? `${group.length} stretches of one curve` : 'Stretch'
  const blur =
    first.specularShare > 0
      ? `, ${percent(first.specularShare)} of it as from a mirror blurred by ${short(first.scatterDeg)}°`
      : ', in all directions'
  const byNm = first.reflectanceByNm ? ' (mean over white light)' : ''
  return `${what} from ${number(first.zInMm)} to ${mm(last.zOutMm)}, ${sectionOf(tunnel)}, ${sizeOf(tunnel, first, 'in')} to ${sizeOf(tunnel, last, 'out')}: ${first.finish ? `${first.finish}, ` : ''}sends back ${percent(first.reflectance)}${byNm}${blur}.`
}

/** A line for the lens and each further element, by the z that light meets first. Names are as in the document: escape them. */
export const elementLines = (lamp: Lamp, system: UnitSystem = 'metric'): string[] => {
  const all = elementsOf(lamp)
  return allInSystem(all.length === 0 ? ['No lens and no cover.'] : all.map(elementLine), system)
}

function elementLine(e: RowElement): string {
  const [from, to] = elementSpan(e)
  const where = to - from > 0.005 ? `${number(from)} to ${mm(to)}` : mm(from)
  const parts = [pieceWords(e), ...placeWords(e), ...kindWords(e)]
  return `${e.isLens ? '' : `${e.name}: `}${KINDS[e.kind]} at ${where}, ${parts.join(', ')}.`
}

const KINDS: Record<RowElement['kind'], string> = {
  fresnel: 'Fresnel lens',
  solid: 'Solid lens',
  ideal: 'Ideal lens',
  cover: 'Cover',
  diffuser: 'Diffuser film',
}

/** “500 × 350 mm”, “560 mm round”, and what it is cut from. */
function pieceWords(e: RowElement): string {
  const { round, xMm, yMm } = pieceHalves(e)
  const size = round
    ? `${mm(2 * xMm)} round`
    : e.aperture === 'square'
      ? `${mm(2 * xMm)} square`
      : `${number(2 * xMm)} × ${mm(2 * yMm)}`
  if (!('centreXMm' in e) && !('centreYMm' in e)) return size
  const [x, y] = [e.centreXMm ?? 0, e.centreYMm ?? 0]
  if (x === 0 && y === 0) return size
  return `${size} cut from a lens of ${mm(2 * pieceReachMm(e))} with its optical centre at ${signed(x)}, ${signed(y)} ${MM} from the piece’s middle`
}

function placeWords({
  decentreXMm = 0,
  decentreYMm = 0,
  tiltXDeg = 0,
  tiltYDeg = 0,
  turnDeg = 0,
}: RowElement): string[] {
  return [
    ...(decentreXMm !== 0 || decentreYMm !== 0
      ? [`moved by ${signed(decentreXMm)}, ${signed(decentreYMm)} ${MM}`]
      : []),
    ...(tiltXDeg !== 0 ? [`tilted by ${signed(tiltXDeg)}° about its x`] : []),
    ...(tiltYDeg !== 0 ? [`tilted by ${signed(tiltYDeg)}° about its y`] : []),
    ...(turnDeg !== 0 ? [`turned by ${signed(turnDeg)}°`] : []),
  ]
}

function kindWords(e: RowElement): string[] {
  if (e.kind === 'diffuser')
    return [
      `passes ${percent(e.transmittance)}, sends back ${percent(e.reflectance)}, spreads by ${short(e.spreadDeg)}°`,
    ]
  if (e.kind === 'cover') {
    const surfaces =
      e.surfaceReflectance === undefined
        ? 'plain surfaces'
        : `${percent(e.surfaceReflectance)} sent back by each surface`
    return [`${mm(e.thicknessMm)} of ${inner(materialOf(e).label)}`, surfaces]
  }
  const focal = `focal length ${mm(lensFocalMm(e))}`
  if (e.kind === 'ideal') return [focal]
  const grooves =
    e.kind === 'fresnel' ? [`grooves of ${mm(e.pitchMm)} towards the ${e.grooves}`] : [`curved towards the ${e.curved}`]
  return [focal, ...grooves, `${mm(e.thicknessMm)} of ${inner(materialOf(e).label)}`]
}

/** Within a sentence: “acrylic (PMMA)”; abbreviations as they are. */
const inner = (label: string): string =>
  /^[A-Z][a-z]/.test(label) ? label.charAt(0).toLowerCase() + label.slice(1) : label
const short = (x: number): string => Number(x.toPrecision(4)).toString()
const signed = (x: number): string => (x < 0 ? `−${number(-x)}` : number(x))
const number = (x: number): string => sizeNumber(short(x), x)
const mm = (x: number): string => sizeText(short(x), x)
const MM = inEither('mm', 'in')
const percent = (share: number): string => `${Number((100 * share).toPrecision(3))} %`
