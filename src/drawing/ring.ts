// The flat ring that a lens, cover or film lies on, and the stand-offs between it and the face.
import { elementsOf, pieceHalves, type RowElement } from '../lamp/assembly.ts'
import { bodyPlanes, fromFrame, rotationOf } from '../lamp/body.ts'
import type { Lamp } from '../lamp/schema.ts'
import type { Point } from '../layout/shape.ts'
import { type FullWorkshop, workshopOf } from '../library/typicalWorkshop.ts'
import { mm } from './sizes.ts'

/** In a sentence. */
export const opticWords = ({ isLens, name }: Pick<RowElement, 'isLens' | 'name'>): string =>
  isLens ? 'the lens' : name

export interface Ring {
  element: RowElement
  round: boolean
  /** Half sizes, mm: of the optic, of the opening under it, of the ring’s edge. */
  lens: Point
  inner: Point
  outer: Point
  /** In the optic’s own frame. */
  screws: Point[]
}

export type MadeRing = { ok: true; ring: Ring } | { ok: false; why: string }

/** For names of sheets: lens, then the others in their order along the axis. */
export const ringNames = (lamp: Lamp): { name: string; element: RowElement }[] =>
  elementsOf(lamp).map((element, i) => ({ name: element.isLens ? 'lens' : `${element.kind}-${i + 1}`, element }))

export function ringOf(lamp: Lamp, element: RowElement): MadeRing {
  const { lensRing } = workshopOf(lamp)
  const { widthMm, lipMm, screwMm, screws: count } = lensRing
  const { round, xMm, yMm } = pieceHalves(element)
  const grown = (by: number): Point => [xMm + by, yMm + by]
  if (Math.min(xMm, yMm) <= lipMm)
    return { ok: false, why: `A lip of ${mm(lipMm)} mm covers the whole of ${opticWords(element)}.` }
  if (screwMm >= widthMm)
    return {
      ok: false,
      why: `Screws of ${mm(screwMm)} mm cross the edge of a ring that is ${mm(widthMm)} mm wide beside ${opticWords(element)}.`,
    }
  const middle = grown(widthMm / 2)
  const screws = round ? onCircle(middle[0], count) : onRectangle(middle, count)
  const nearest = leastGap(screws)
  if (nearest <= screwMm)
    return {
      ok: false,
      why: `${count} screws of ${mm(screwMm)} mm overlap on the ring of ${opticWords(element)}: ${mm(nearest)} mm from middle to middle.`,
    }
  return {
    ok: true,
    ring: { element, round, lens: [xMm, yMm], inner: grown(-lipMm), outer: grown(widthMm), screws },
  }
}

const onCircle = (radius: number, count: number): Point[] =>
  Array.from({ length: count }, (_, i): Point => {
    const at = (2 * Math.PI * (i + 0.5)) / count
    return [radius * Math.cos(at), radius * Math.sin(at)]
  })

/** One in each corner, the others spread over the sides so that the widest gap is least; fewer than four: on the sides’ middles. */
function onRectangle([x, y]: Point, count: number): Point[] {
  const middles: Point[] =
    x >= y
      ? [
          [x, 0],
          [-x, 0],
          [0, y],
        ]
      : [
          [0, y],
          [0, -y],
          [x, 0],
        ]
  if (count < 4) return middles.slice(0, count)
  const corners: Point[] = [
    [x, -y],
    [x, y],
    [-x, y],
    [-x, -y],
  ]
  const extra = [0, 0, 0, 0]
  for (let left = count - 4; left > 0; left--) {
    const gaps = extra.map((n, side) => (side % 2 === 0 ? 2 * y : 2 * x) / (n + 1))
    const widest = gaps.indexOf(Math.max(...gaps))
    extra[widest] = (extra[widest] ?? 0) + 1
  }
  return corners.flatMap((from, side) => {
    const to = corners[(side + 1) % 4] ?? from
    const n = extra[side] ?? 0
    return Array.from({ length: n + 1 }, (_, k): Point => {
      const share = k / (n + 1)
      return [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1])]
    })
  })
}

function leastGap(points: readonly Point[]): number {
  let least = Infinity
  for (const [i, [x, y]] of points.entries())
    for (const [u, v] of points.slice(i + 1)) least = Math.min(least, Math.hypot(u - x, v - y))
  return least
}

export interface StandOff {
  /** Name of the sheet’s optic. */
  of: string
  xMm: number
  yMm: number
  /** From the face to the ring’s lower side, at the screw’s middle. */
  lengthMm: number
  screwMm: number
}

/** One at each screw, along the lamp’s axis: the ring, as thick as the workshop says, lies under the optic’s side towards the face. */
export function standOffsOf(lamp: Lamp, ring: Ring): StandOff[] {
  const { heightMm, screwMm }: FullWorkshop['lensRing'] = workshopOf(lamp).lensRing
  const under = bodyPlanes(ring.element)[0] - heightMm
  const [, , , , , , , , upright] = rotationOf(ring.element)
  return ring.screws.map(([x, y]) => {
    const [xMm, yMm, zMm] = fromFrame(ring.element, [x, y, under])
    return { of: opticWords(ring.element), xMm, yMm, lengthMm: upright > 0 ? zMm : 0, screwMm }
  })
}
