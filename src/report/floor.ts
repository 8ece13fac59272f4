// Figures whose ± stops falling with the number of rays, and the sentence that says so.
import type { FigureName, HotSpotName, Sheet } from '../job/beam/sheet.ts'

/** Read off single exit rays, of which so many are kept. */
const OF_KEPT_RAYS: readonly (FigureName | HotSpotName)[] = ['inverseSquareFromM', 'front']
/** Read from the map over direction, or from the peak. */
const OF_PEAK: readonly (FigureName | HotSpotName)[] = ['peakIntensityCd', 'beamDistanceM']
const OF_MAP: readonly (FigureName | HotSpotName)[] = ['patternContrast']

/** Why the ± of this figure gets no smaller, or what it is a mean over; null while more rays still help. */
export function floorWords(
  name: FigureName | HotSpotName,
  { rays, exitsFrom, wideCells }: Pick<Sheet, 'rays' | 'exitsFrom' | 'wideCells'>,
): string | null {
  if (OF_KEPT_RAYS.includes(name) && rays > exitsFrom)
    return `Read off the first ${exitsFrom.toLocaleString('en-US')} rays: more make its ± no smaller.`
  if (!wideCells) return null
  const cell = `cell of the map over direction, ${Number(wideCells.deg.toPrecision(2))}° wide, which is wider than the axial cone`
  if (wideCells.peak && OF_PEAK.includes(name))
    return `By the mean over a ${cell}: ± holds what the cells beside it leave open.`
  return OF_MAP.includes(name) ? `By means over a ${cell}.` : null
}
