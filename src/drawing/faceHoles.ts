// All holes of the face: keep-outs, screws of boards, stand-offs of the lens ring; and what is wrong with them.
import { boardTypeOf, lampFromBoard } from '../lamp/place.ts'
import type { Lamp } from '../lamp/schema.ts'
import { boardOutline, edgeGap, keepOutShape } from '../layout/outline.ts'
import { gapBetween, type Shape, shapeBox } from '../layout/shape.ts'
import { forEachNearPair } from '../num/grid.ts'
import { opticWords, ringNames, ringOf, standOffsOf } from './ring.ts'
import { deg, mm } from './sizes.ts'

export interface FaceHole {
  /** H1, H2 …, as in the table. */
  number: string
  xMm: number
  yMm: number
  /** Of a slot the width. */
  diameterMm: number
  slot: { lengthMm: number; turnDeg: number } | null
  why: string
  shape: Shape
}

export interface FaceHoles {
  holes: FaceHole[]
  /** What isn’t drawn, and why. */
  notes: string[]
  /** Null: the holes can be made. */
  fault: string | null
  /** Whether a stand-off of the ring is among them. */
  hasStandOffs: boolean
}

type Bare = Omit<FaceHole, 'number'>

export function faceHolesOf(lamp: Lamp): FaceHoles {
  const { holes: boards, notes } = boardHoles(lamp)
  const own = numbered([...keepOuts(lamp), ...boards])
  const posts = standOffHoles(lamp)
  const all = numbered([...own, ...posts.holes])
  const ownFault = findFault(lamp, own)
  const fault = ownFault ?? findFault(lamp, all) ?? underBoard(lamp, all.slice(own.length))
  // A ring that the lamp doesn’t state is typical: it may not forbid the face.
  if (!ownFault && fault && !lamp.workshop?.lensRing)
    return {
      ...{ holes: own, fault: null, hasStandOffs: false },
      notes: [...notes, `Stand-offs of a typical lens ring are left out: ${lowered(fault)} State your ring.`],
    }
  return { holes: all, notes: [...notes, ...posts.notes], fault, hasStandOffs: posts.holes.length > 0 }
}

const lowered = (s: string): string => s.charAt(0).toLowerCase() + s.slice(1)

const numbered = (holes: readonly Bare[]): FaceHole[] => holes.map((h, i) => ({ ...h, number: `H${i + 1}` }))

function keepOuts(lamp: Lamp): Bare[] {
  return lamp.face.keepOuts.map((k) => ({
    ...{ xMm: k.xMm, yMm: k.yMm, why: k.why, shape: keepOutShape(k) },
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
}

function boardHoles(lamp: Lamp): { holes: Bare[]; notes: string[] } {
  const notes: string[] = []
  const holes = lamp.boards.flatMap((board): Bare[] => {
    const holesOf = boardTypeOf(lamp, board).holes ?? []
    if (board.wedge?.tiltDeg) {
      notes.push(
        `Board ${board.id} stands on a wedge of ${deg(Math.abs(board.wedge.tiltDeg))}: its outline is drawn as seen from the front, its ${holesOf.length === 1 ? 'hole is' : `${holesOf.length} holes are`} not drawn; drill from the wedge.`,
      )
      return []
    }
    if (board.heightMm) notes.push(`Board ${board.id} stands on a spacer of ${mm(board.heightMm)} mm: longer screws.`)
    return holesOf.map(({ xMm, yMm, diameterMm }) => {
      const [x, y] = lampFromBoard(board, xMm, yMm)
      const shape: Shape = { core: [[x, y]], radiusMm: diameterMm / 2 }
      return { xMm: x, yMm: y, diameterMm, slot: null, why: `Board ${board.id}`, shape }
    })
  })
  return { holes, notes }
}

/** Those that fall on the face; the others need a frame beside it. */
function standOffHoles(lamp: Lamp): { holes: Bare[]; notes: string[] } {
  const notes: string[] = []
  const holes = ringNames(lamp).flatMap(({ element }) => {
    const made = ringOf(lamp, element)
    if (!made.ok) return []
    const posts = standOffsOf(lamp, made.ring).map(({ xMm, yMm, screwMm }): Bare & { gapMm: number } => {
      const shape: Shape = { core: [[xMm, yMm]], radiusMm: screwMm / 2 }
      const { gapMm } = edgeGap(lamp.face, shape)
      return { xMm, yMm, diameterMm: screwMm, slot: null, why: `Stand-off of ${opticWords(element)}`, shape, gapMm }
    })
    const beside = posts.filter((p) => p.gapMm <= -p.diameterMm)
    if (beside.length > 0)
      notes.push(
        `${beside.length} of ${posts.length} stand-offs of ${opticWords(element)} stand beside the face: they need a wider plate or a frame of their own.`,
      )
    return posts.filter((p) => p.gapMm > -p.diameterMm).map(({ gapMm: _, ...post }) => post)
  })
  return { holes, notes }
}

function findFault(lamp: Lamp, holes: readonly FaceHole[]): string | null {
  for (const h of holes) {
    const { gapMm } = edgeGap(lamp.face, h.shape)
    if (gapMm <= -h.diameterMm) return `${nameOf(h)} lies beside the face.`
    if (gapMm <= 0) return `${nameOf(h)} crosses the face’s edge.`
  }
  let fault: string | null = null
  forEachNearPair(
    holes.map((h) => shapeBox(h.shape)),
    0,
    (i, j) => {
      const [a, b] = [holes[i], holes[j]]
      if (!a || !b || gapBetween(a.shape, b.shape).gapMm > 0) return
      fault = `${nameOf(a)} and ${nameOf(b)} overlap.`
      return false
    },
  )
  return fault
}

const nameOf = (h: FaceHole): string =>
  `${h.slot ? 'Slot' : 'Hole'} ${h.number} (${h.why}; x ${mm(h.xMm)}, y ${mm(h.yMm)} mm)`

function underBoard(lamp: Lamp, posts: readonly FaceHole[]): string | null {
  if (posts.length === 0) return null
  for (const board of lamp.boards) {
    const outline = boardOutline(lamp, board)
    const hit = posts.find((p) => gapBetween(outline, p.shape).gapMm < 0)
    if (hit) return `${nameOf(hit)} lies under board ${board.id}.`
  }
  return null
}
