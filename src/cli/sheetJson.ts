// The beam sheet as one JSON object for other programs. A figure that can't be computed is absent, with the reason.
import { FIGURE_NAMES, type FigureName, type HotSpot, type HotSpotName, type Sheet } from '../job/beam/sheet.ts'
import { FIGURE_WORDS } from '../report/figures.ts'
import { absentOf, HOT_SPOTS } from '../report/sheetRows.ts'

export interface SheetJson {
  version: string
  lamp: string
  seed: number
  rays: number
  engine: string
  threads: number
  seconds: number
  raysPerSecond: number
  /** The light that the lumens refer to: rated, at a board temperature, or at a mode's moment. */
  light: Sheet['light']
  figures: Partial<Record<FigureName, { value: number; se: number; unit: string }>>
  ledger: Record<string, number>
  /** Shares by part of an assembled lamp. */
  parts?: { name: string; share: number }[]
  hotSpots: Partial<Record<HotSpotName, HotSpot>>
  /** Hot spots of an assembled lamp's other elements, in their order from the face. */
  elements?: { name: string; hotSpot: HotSpot | null }[]
  absent: Partial<Record<FigureName | HotSpotName, string>>
}

/** Shares of 1 have the unit '1'. */
const unitOf = (name: FigureName): string => (FIGURE_WORDS[name].unit === '%' ? '1' : FIGURE_WORDS[name].unit)

export function sheetJson(sheet: Sheet, version: string): SheetJson {
  const { lamp, seed, rays, engine, threads, seconds, raysPerSecond, light } = sheet
  const figures: SheetJson['figures'] = {}
  const hotSpots: SheetJson['hotSpots'] = {}
  for (const name of FIGURE_NAMES) {
    const f = sheet.figures[name]
    if (f && Number.isFinite(f.value) && Number.isFinite(f.se))
      figures[name] = { value: f.value, se: f.se, unit: unitOf(name) }
  }
  for (const name of HOT_SPOTS) {
    const h = sheet.hotSpots[name]
    if (h && [h.kWm2, h.se, h.xMm, h.yMm, h.zMm, h.discMm].every(Number.isFinite))
      hotSpots[name] = { kWm2: h.kWm2, se: h.se, xMm: h.xMm, yMm: h.yMm, zMm: h.zMm, discMm: h.discMm }
  }
  const ledger: Record<string, number> = {}
  for (const { line, share } of sheet.ledger) ledger[line] = (ledger[line] ?? 0) + share.value
  return {
    version,
    lamp,
    seed,
    rays,
    engine,
    threads,
    seconds,
    raysPerSecond,
    light,
    figures,
    ledger,
    ...(sheet.parts ? { parts: sheet.parts.map(({ name, share }) => ({ name, share: share.value })) } : {}),
    hotSpots,
    ...(sheet.elements ? { elements: sheet.elements.map(({ name, spot }) => ({ name, hotSpot: spot })) } : {}),
    absent: absentOf(sheet),
  }
}
