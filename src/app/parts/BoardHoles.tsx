// Screw holes of a board type: places in the board's own frame, one diameter for all of them.
import type { BoardHole, Lamp } from '../../lamp/schema.ts'
import { boardHole } from '../../lamp/workshop.ts'
import { workshopOf } from '../../library/typicalWorkshop.ts'
import { useDesign } from '../store/stores.ts'
import { withBoardType } from './edits.ts'
import { LampNumber } from './fields.tsx'
import { PairTable } from './PairTable.tsx'
import { Part } from './Part.tsx'

const of = boardHole.shape
const NONE: readonly BoardHole[] = []

const holesOf = (lamp: Lamp, id: string): readonly BoardHole[] =>
  lamp.boardTypes.find((t) => t.id === id)?.holes ?? NONE

/** A clearance hole, a tenth wider than the screw: about the "medium" series of ISO 273. */
const clearanceMm = (lamp: Lamp): number => Math.round(11 * workshopOf(lamp).boardScrewMm) / 10

function withHoles(lamp: Lamp, id: string, holes: readonly BoardHole[]): Lamp {
  const { holes: _, ...type } = lamp.boardTypes.find((t) => t.id === id) ?? lamp.boardTypes[0]!
  const next = holes.length > 0 ? { ...type, holes: [...holes] } : type
  return { ...lamp, boardTypes: lamp.boardTypes.map((t) => (t.id === id ? next : t)) }
}

export function BoardHoles({ id }: { id: string }) {
  const count = useDesign((s) => holesOf(s.lamp, id).length)
  return (
    <Part
      of="board-holes"
      title="Screw holes"
      summary={count === 0 ? 'none' : `${count}`}
      level={3}
      edits="Board, screw holes"
    >
      <PairTable
        title="Holes"
        first={{ key: 'xMm', name: 'x', unit: 'mm', of: of.xMm, step: 0.5 }}
        second={{ key: 'yMm', name: 'y', unit: 'mm', of: of.yMm, step: 0.5 }}
        least={0}
        empty="None: the face plan then has no screws for these boards."
        add={(rows) => [...rows, rows.length > 0 ? opposite(rows[rows.length - 1]!) : { xMm: 0, yMm: 0 }]}
        read={(lamp) => holesOf(lamp, id)}
        write={(lamp, rows) => {
          const diameterMm = holesOf(lamp, id)[0]?.diameterMm ?? clearanceMm(lamp)
          return withHoles(
            lamp,
            id,
            rows.map(({ xMm, yMm }) => ({ xMm, yMm, diameterMm })),
          )
        }}
      />
      {count > 0 && (
        <LampNumber
          label="Hole diameter"
          unit="mm"
          step={0.1}
          of={of.diameterMm}
          description="In the board; the face is drilled for the screw"
          read={(lamp) => holesOf(lamp, id)[0]?.diameterMm ?? null}
          write={(lamp, diameterMm) =>
            withBoardType(lamp, id, { holes: holesOf(lamp, id).map((hole) => ({ ...hole, diameterMm })) })
          }
        />
      )}
    </Part>
  )
}

/** Boards are usually held by screws on opposite sides. */
const opposite = ({ xMm, yMm }: { xMm: number; yMm: number }) => ({ xMm: -xMm || 0, yMm: -yMm || 0 })
