// Board types: outline, emitter type, and emitter sites.
import { useState } from 'react'
import { boardType } from '../../lamp/parts.ts'
import type { BoardType, Lamp } from '../../lamp/schema.ts'
import type { Corner } from '../../num/polygon.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Choice } from '../ui/Choice.tsx'
import { BoardDesigner } from './BoardDesigner.tsx'
import { BoardHoles } from './BoardHoles.tsx'
import { CornerTable } from './CornerTable.tsx'
import { ErrorText } from './ErrorText.tsx'
import { freeId, isUsed, withBoardType } from './edits.ts'
import { LampChoice, LampNumber, LampText } from './fields.tsx'
import { OutlineFile } from './OutlineFile.tsx'
import { newOutline, tidyCorner } from './outlineEdits.ts'
import { Part } from './Part.tsx'
import { withStrings } from './powerEdits.ts'
import { TypeRow, useRow } from './TypeRow.tsx'

type Outline = BoardType['outline']
const [rectangle, hexagon, disc, star] = boardType.shape.outline.options

const OUTLINES = [
  { key: 'rectangle', name: 'rectangle' },
  { key: 'hexagon', name: 'hexagon' },
  { key: 'disc', name: 'disc' },
  { key: 'star', name: 'star' },
  { key: 'polygon', name: 'own outline' },
] as const

const withCorners = (lamp: Lamp, id: string, corners: readonly Corner[]): Lamp =>
  withBoardType(lamp, id, { outline: { shape: 'polygon', corners: corners.map(tidyCorner) } })

const at = (lamp: Lamp, id: string): BoardType => lamp.boardTypes.find((t) => t.id === id) ?? lamp.boardTypes[0]!

export function BoardsPart() {
  const rows = useDesign((s) => s.lamp.boardTypes)
  const placed = useDesign((s) => s.lamp.boards.length)
  const emitters = useDesign((s) => s.lamp.emitterTypes)
  const [id, choose] = useRow(rows)
  const row = rows.find((r) => r.id === id)!
  return (
    <Part of="boards" title="Boards" summary={`${placed} placed`} edits="Board">
      <TypeRow
        list="boardTypes"
        what="board"
        id={id}
        choose={choose}
        copy={() => {
          const lamp = design.lamp()
          const next = { ...at(lamp, id), id: freeId(lamp.boardTypes, id) }
          return {
            lamp: { ...lamp, boardTypes: [...lamp.boardTypes, { ...next, name: `${next.name}, copy` }] },
            id: next.id,
          }
        }}
        canDelete={(lamp) => lamp.boardTypes.length > 1 && !isUsed(lamp, 'boardTypes', id)}
      />
      <LampText
        label="Name"
        read={(lamp) => at(lamp, id).name}
        write={(lamp, name) => withBoardType(lamp, id, { name })}
      />
      {emitters.length > 1 && (
        <LampChoice
          label="Emitter"
          options={emitters.map((e) => ({ key: e.id, name: e.name }))}
          asTyped
          read={(lamp) => at(lamp, id).emitter}
          write={(lamp, emitter) => withBoardType(lamp, id, { emitter })}
        />
      )}
      <OutlineFields id={id} outline={row.outline} />
      <p className="parts-note">
        {row.sites.length} {row.sites.length === 1 ? 'emitter' : 'emitters'} on each board.
      </p>
      <LampNumber
        label="Strings in parallel"
        unit=""
        step={1}
        of={boardType.shape.strings.unwrap()}
        description="The emitters of a string stand in series; strings in parallel share the board's current"
        read={(lamp) => at(lamp, id).strings ?? 1}
        write={(lamp, strings) => withStrings(lamp, id, strings)}
      />
      <p className="parts-note">{wiredWords(row.sites.length, row.strings ?? 1)}</p>
      <BoardHoles id={id} />
      <BoardDesigner key={id} id={id} />
    </Part>
  )
}

/** The wiring of a board's emitters as text. */
export function wiredWords(emitters: number, strings: number): string {
  if (strings <= 1) return emitters === 1 ? 'One emitter by itself.' : `All ${emitters} in series.`
  if (emitters % strings !== 0) return `${emitters} emitters can’t make ${strings} equal strings.`
  return `${emitters / strings} in series × ${strings} in parallel: the driver gives ${strings} times an emitter’s current.`
}

function OutlineFields({ id, outline }: { id: string; outline: Outline }) {
  const first = useDesign((s) => s.lamp.boards.find((b) => b.type === id)?.id)
  const [why, setWhy] = useState<string | null>(null)
  const size = (label: string, key: string, of: (typeof disc.shape)['diameterMm'], step = 0.5) => (
    <LampNumber
      key={key}
      label={label}
      unit={key === 'points' ? '' : 'mm'}
      step={step}
      of={of}
      read={(lamp) => {
        const value = (at(lamp, id).outline as Record<string, unknown>)[key]
        return typeof value === 'number' ? value : null
      }}
      write={(lamp, v) => withBoardType(lamp, id, { outline: { ...at(lamp, id).outline, [key]: v } as Outline })}
    />
  )
  return (
    <>
      <Choice
        label="Outline"
        value={outline.shape}
        options={OUTLINES}
        onChoose={(shape) =>
          setWhy(
            tryEdit(design, `Board: ${shape}`, (lamp) =>
              withBoardType(lamp, id, { outline: newOutline(shape, at(lamp, id).outline) }),
            ),
          )
        }
      />
      <ErrorText why={why} />
      {outline.shape === 'rectangle' && [
        size('Board width', 'widthMm', rectangle.shape.widthMm),
        size('Board height', 'heightMm', rectangle.shape.heightMm),
      ]}
      {outline.shape === 'hexagon' && size('Across flats', 'acrossMm', hexagon.shape.acrossMm)}
      {outline.shape === 'disc' && size('Board diameter', 'diameterMm', disc.shape.diameterMm)}
      {outline.shape === 'star' && [
        size('Across', 'acrossMm', star.shape.acrossMm),
        size('Points', 'points', star.shape.points, 1),
        size('Notch depth', 'notchMm', star.shape.notchMm),
      ]}
      {outline.shape === 'polygon' && (
        <CornerTable
          read={(lamp) => {
            const own = at(lamp, id).outline
            return own.shape === 'polygon' ? own.corners : undefined
          }}
          write={(lamp, corners) => withCorners(lamp, id, corners)}
        />
      )}
      {outline.shape === 'polygon' && first !== undefined && (
        <p className="parts-note">On the plan: select one of these boards and drag its corners.</p>
      )}
      <OutlineFile
        of="board"
        draws={first === undefined ? null : { typeId: id, boardId: first }}
        take={(lamp, { corners }) => withCorners(lamp, id, corners)}
      />
    </>
  )
}
