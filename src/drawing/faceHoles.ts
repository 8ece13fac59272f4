// The face's holes in words: what each is for, what is wrong with them, what isn't drawn and why.
import { boardTypeOf } from '../lamp/place.ts'
import type { Lamp } from '../lamp/schema.ts'
import { type FaceHole, faceHolesOf, type HoleFault, isUpright } from '../layout/faceHoles.ts'
import { workshopOf } from '../library/typicalWorkshop.ts'
import { opticWords } from './ring.ts'
import { deg, MM, mm } from './sizes.ts'

interface DrawnHoles {
  holes: FaceHole[]
  /** What isn’t drawn, and why. */
  notes: string[]
  /** Null: the holes can be made. */
  fault: string | null
  /** Whether a stand-off of the ring is among them. */
  hasStandOffs: boolean
}

export function drawnHoles(lamp: Lamp): DrawnHoles {
  const { holes, fault, leftOut, beside } = faceHolesOf(lamp, workshopOf(lamp).lensRing)
  return {
    holes,
    fault: fault && faultWords(fault),
    hasStandOffs: holes.some((h) => h.use.of === 'standOff'),
    notes: [
      ...boardNotes(lamp),
      ...(leftOut
        ? [`Stand-offs of a typical lens ring are left out: ${lowered(faultWords(leftOut))} State your ring.`]
        : []),
      ...beside.map(
        ({ element, count, all }) =>
          `${count === all ? `All ${all}` : `${count} of ${all}`} stand-offs of ${opticWords(element)} stand beside the face: they need a wider plate or a frame of their own.`,
      ),
    ],
  }
}

const lowered = (s: string): string => s.charAt(0).toLowerCase() + s.slice(1)

const boardNotes = (lamp: Lamp): string[] =>
  lamp.boards.flatMap((board) => {
    const count = boardTypeOf(lamp, board).holes?.length ?? 0
    if (!isUpright(board))
      return [
        `Board ${board.id} stands on a wedge of ${deg(Math.abs(board.wedge?.tiltDeg ?? 0))}: its outline is drawn as seen from the front, its ${count === 1 ? 'hole is' : `${count} holes are`} not drawn; drill from the wedge.`,
      ]
    return board.heightMm ? [`Board ${board.id} stands on a spacer of ${mm(board.heightMm)} ${MM}: longer screws.`] : []
  })

export const holeWords = ({ use }: FaceHole): string =>
  use.of === 'keepOut' ? use.why : use.of === 'board' ? `Board ${use.id}` : `Stand-off of ${opticWords(use.element)}`

function faultWords(fault: HoleFault): string {
  switch (fault.of) {
    case 'beside':
      return `${nameOf(fault.hole)} lies beside the face.`
    case 'edge':
      return `${nameOf(fault.hole)} crosses the face’s edge.`
    case 'overlap':
      return `${nameOf(fault.holes[0])} and ${nameOf(fault.holes[1])} overlap.`
    case 'underBoard':
      return `${nameOf(fault.hole)} lies under board ${fault.board}.`
  }
}

const nameOf = (h: FaceHole): string =>
  `${h.slot ? 'Slot' : 'Hole'} ${h.number} (${holeWords(h)}; x ${mm(h.xMm)}, y ${mm(h.yMm)} ${MM})`
