// Figures whose ± stops falling with the number of rays, and the sentence that says so.
import type { FigureName, HotSpotName, Sheet } from '../job/beam/sheet.ts'

/** Read off single exit rays, of which so many are kept. */
const OF_KEPT_RAYS: readonly (FigureName | HotSpotName)[] = ['inverseSquareFromM', 'front']

/** Why the ± of this figure gets no smaller; null while more rays still help. */
export function floorWords(
  name: FigureName | HotSpotName,
  { rays, exitsFrom }: Pick<Sheet, 'rays' | 'exitsFrom'>,
): string | null {
  if (!OF_KEPT_RAYS.includes(name) || rays <= exitsFrom) return null
  return `Read off the first ${exitsFrom.toLocaleString('en-US')} rays: more make its ± no smaller.`
}
