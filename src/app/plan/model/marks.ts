// One mark for each optic type, so that the plan shows which emitter has which; and the usual current.
import type { EmitterType, Lamp, OpticType } from '../../../lamp/schema.ts'

const MARK_SHAPES = ['ring', 'core', 'bar', 'corner', 'slab', 'gem', 'cross', 'halves'] as const
export type MarkShape = (typeof MARK_SHAPES)[number]
/** Tones by name; the view gives them their colours. None is the colour of a hazard. */
const MARK_TONES = ['steel', 'lichen', 'heather', 'chalk', 'sand'] as const
export type MarkTone = (typeof MARK_TONES)[number]

export interface OpticMark {
  id: string
  name: string
  shape: MarkShape
  tone: MarkTone
}

/** Assigned by position in the lamp's list of optics, so that a mark stays the same while boards change. */
export const opticMarks = (lamp: Pick<Lamp, 'opticTypes'>): OpticMark[] =>
  lamp.opticTypes.map((o, i) => ({
    id: o.id,
    name: o.name,
    shape: MARK_SHAPES[i % MARK_SHAPES.length]!,
    tone: MARK_TONES[(i + Math.floor(i / MARK_SHAPES.length)) % MARK_TONES.length]!,
  }))

export interface LegendRow {
  mark: OpticMark
  emitters: number
}

/** Marks in use, each with its number of emitters. Counted by board, since every edit counts up to a thousand of them. */
export function legend(lamp: Lamp): LegendRow[] {
  const sites = new Map(lamp.boardTypes.map((t) => [t.id, t.sites.length]))
  const count = new Map<string, number>()
  const add = (optic: string, n: number) => count.set(optic, (count.get(optic) ?? 0) + n)
  for (const b of lamp.boards) {
    const single = Object.values(b.siteOptics ?? {})
    for (const optic of single) add(optic, 1)
    add(b.optic ?? lamp.optic, (sites.get(b.type) ?? 0) - single.length)
  }
  return opticMarks(lamp).flatMap((mark) => {
    const emitters = count.get(mark.id) ?? 0
    return emitters > 0 ? [{ mark, emitters }] : []
  })
}

/** Diameter of an emitter's mark: the optic's exit, or the package. */
export const markDiameterMm = (optic: OpticType, emitter: EmitterType): number =>
  optic.kind === 'bare' ? emitter.bodyMm : optic.exitDiameterMm

/** The current that most boards run at; of equals the larger; null without boards. */
export function mostCommonCurrentA(lamp: Pick<Lamp, 'boards'>): number | null {
  const count = new Map<number, number>()
  for (const b of lamp.boards) count.set(b.currentA, (count.get(b.currentA) ?? 0) + 1)
  let best: number | null = null
  for (const [a, n] of count) {
    const most = best === null ? -1 : count.get(best)!
    if (n > most || (n === most && a > best!)) best = a
  }
  return best
}
