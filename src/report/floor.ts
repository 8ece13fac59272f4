// Figures whose ± stops falling with the number of rays, and the sentence that says so.

import type { FigureName, HotSpotName, Sheet } from '../job/beam/sheet.ts'
import { inThousands } from '../num/thousands.ts'

/** Read off single exit rays, of which so many are kept. */
const OF_KEPT_RAYS: readonly (FigureName | HotSpotName)[] = ['inverseSquareFromM', 'front']
/** Read from the map over direction, or from the peak. */
const OF_PEAK: readonly (FigureName | HotSpotName)[] = ['peakIntensityCd', 'beamDistanceM']
const OF_MAP: readonly (FigureName | HotSpotName)[] = ['patternContrast']

/** What bins, tables and steps between directions leave open says why ± stays when it is this share of it at least: more rays then take a third of it at most. */
const MOST_OF_IT = 0.7

type Known = Pick<Sheet, 'rays' | 'exitsFrom' | 'wideCells' | 'floors'> & Partial<Pick<Sheet, 'figures'>>

/** Why the ± of this figure gets no smaller, or what it is a mean over; null while more rays still help. */
export function floorWords(name: FigureName | HotSpotName, sheet: Known): string | null {
  const { rays, exitsFrom, wideCells } = sheet
  if (OF_KEPT_RAYS.includes(name) && rays > exitsFrom)
    return `Read off the first ${inThousands(exitsFrom)} rays: more make its ± no smaller.`
  const words = [wideCells ? wideWords(name, wideCells) : null, staysBy(name as FigureName, sheet) ? STAYS : null]
  return words.filter((line) => line !== null).join(' ') || null
}

const STAYS = 'More rays make its ± hardly smaller: most of it is how wide the cells of the direction map are.'

function staysBy(name: FigureName, { figures, floors }: Known): boolean {
  const [figure, floor] = [figures?.[name], floors?.[name]]
  return figure !== undefined && floor !== undefined && floor > 0 && floor >= MOST_OF_IT * figure.se
}

function wideWords(name: FigureName | HotSpotName, { deg, peak }: NonNullable<Sheet['wideCells']>): string | null {
  const cell = `cell of the map over direction, ${Number(deg.toPrecision(2))}° wide, which is wider than the axial cone`
  if (peak && OF_PEAK.includes(name)) return `By the mean over a ${cell}: ± holds what the cells beside it leave open.`
  return OF_MAP.includes(name) ? `By means over a ${cell}.` : null
}
