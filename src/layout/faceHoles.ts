// All holes of the face: keep-outs, screws of boards, stand-offs of rings; and what is wrong with them. Drawing and solid read them here.
import { elementsOf, type RowElement } from '../lamp/assembly.ts'
import { boardTypeOf, lampFromBoard } from '../lamp/place.ts'
import type { Board, Lamp, Workshop } from '../lamp/schema.ts'
import { forEachNearPair } from '../num/grid.ts'
import { ringFault, ringSizes, standOffsOf } from './lensRing.ts'
import { boardOutline, edgeGap, keepOutShape } from './outline.ts'
import { gapBetween, type Shape, shapeBox } from './shape.ts'

type LensRing = NonNullable<Workshop['lensRing']>

export interface FaceHole {
  /** H1, H2 …, as in the table. */
  number: string
  xMm: number
  yMm: number
  /** Of a slot the width. */
  diameterMm: number
  /** Its length includes its round ends. */
  slot: { lengthMm: number; turnDeg: number } | null
  use: { of: 'keepOut'; why: string } | { of: 'board'; id: string } | { of: 'standOff'; element: RowElement }
  shape: Shape
}

export type HoleFault =
  | { of: 'beside' | 'edge'; hole: FaceHole }
  | { of: 'overlap'; holes: [FaceHole, FaceHole] }
  | { of: 'underBoard'; hole: FaceHole; board: string }

export interface FaceHoles {
  holes: FaceHole[]
  /** Null: the holes can be made. */
  fault: HoleFault | null
  /** Why the stand-offs of a ring that the lamp doesn't state were left out: it may not forbid the face. */
  leftOut: HoleFault | null
  /** Stand-offs that fall beside the face: they need a frame there. */
  beside: { element: RowElement; count: number; all: number }[]
}

type Bare = Omit<FaceHole, 'number'>

/** `ring`: as stated in the lamp, or typical. */
export function faceHolesOf(lamp: Lamp, ring: LensRing): FaceHoles {
  const own = numbered([...keepOutHoles(lamp), ...boardHoles(lamp)])
  const posts = standOffHoles(lamp, ring)
  const all = numbered([...own, ...posts.holes])
  const ownFault = findFault(lamp, own)
  const fault = ownFault ?? findFault(lamp, all) ?? underBoard(lamp, all.slice(own.length))
  if (!ownFault && fault && !lamp.workshop?.lensRing) return { holes: own, fault: null, leftOut: fault, beside: [] }
  return { holes: all, fault, leftOut: null, beside: posts.beside }
}

const numbered = (holes: readonly Bare[]): FaceHole[] => holes.map((h, i) => ({ ...h, number: `H${i + 1}` }))

const keepOutHoles = (lamp: Lamp): Bare[] =>
  lamp.face.keepOuts.map((k) => ({
    ...{ xMm: k.xMm, yMm: k.yMm, use: { of: 'keepOut', why: k.why }, shape: keepOutShape(k) },
    ...(k.shape === 'hole'
      ? { diameterMm: k.diameterMm, slot: null }
      : {
          diameterMm: Math.min(k.widthMm, k.lengthMm),
          slot: {
            lengthMm: Math.max(k.widthMm, k.lengthMm),
            // A slot wider than long runs across.
            turnDeg: k.lengthMm >= k.widthMm ? k.turnDeg : k.turnDeg + 90,
          },
        }),
  }))

/** A board on a wedge isn't screwed square into the face. */
export const isUpright = ({ wedge }: Board): boolean => !wedge?.tiltDeg

/** As wide as in the board. */
const boardHoles = (lamp: Lamp): Bare[] =>
  lamp.boards.filter(isUpright).flatMap((board) =>
    (boardTypeOf(lamp, board).holes ?? []).map(({ xMm, yMm, diameterMm }): Bare => {
      const [x, y] = lampFromBoard(board, xMm, yMm)
      const shape: Shape = { core: [[x, y]], radiusMm: diameterMm / 2 }
      return { xMm: x, yMm: y, diameterMm, slot: null, use: { of: 'board', id: board.id }, shape }
    }),
  )

/** Those that fall on the face, as wide as the ring's screws. */
function standOffHoles(lamp: Lamp, ring: LensRing): { holes: Bare[]; beside: FaceHoles['beside'] } {
  const beside: FaceHoles['beside'] = []
  const holes = elementsOf(lamp).flatMap((element) => {
    const sizes = ringSizes(element, ring)
    if (ringFault(sizes, ring)) return []
    const all = standOffsOf(sizes).map(({ xMm, yMm }): Bare => {
      const shape: Shape = { core: [[xMm, yMm]], radiusMm: ring.screwMm / 2 }
      return { xMm, yMm, diameterMm: ring.screwMm, slot: null, use: { of: 'standOff', element }, shape }
    })
    const meets = all.filter((h) => edgeGap(lamp.face, h.shape).gapMm > -h.diameterMm)
    if (meets.length < all.length) beside.push({ element, count: all.length - meets.length, all: all.length })
    return meets
  })
  return { holes, beside }
}

function findFault(lamp: Lamp, holes: readonly FaceHole[]): HoleFault | null {
  for (const hole of holes) {
    const { gapMm } = edgeGap(lamp.face, hole.shape)
    if (gapMm <= -hole.diameterMm) return { of: 'beside', hole }
    if (gapMm <= 0) return { of: 'edge', hole }
  }
  let fault: HoleFault | null = null
  forEachNearPair(
    holes.map((h) => shapeBox(h.shape)),
    0,
    (i, j) => {
      const [a, b] = [holes[i], holes[j]]
      if (!a || !b || gapBetween(a.shape, b.shape).gapMm > 0) return
      fault = { of: 'overlap', holes: [a, b] }
      return false
    },
  )
  return fault
}

function underBoard(lamp: Lamp, posts: readonly FaceHole[]): HoleFault | null {
  if (posts.length === 0) return null
  for (const board of lamp.boards) {
    const outline = boardOutline(lamp, board)
    const hole = posts.find((p) => gapBetween(outline, p.shape).gapMm < 0)
    if (hole) return { of: 'underBoard', hole, board: board.id }
  }
  return null
}
