// Edits all selected boards or emitters at once: current, optic, place and turn.
import { board } from '../../lamp/parts.ts'
import type { Board, Lamp } from '../../lamp/schema.ts'
import {
  middleOf,
  type PoseField,
  withBoardOptic,
  withBoards,
  withCurrent,
  withEmitterOptic,
  withPose,
} from '../common/boardEdits.ts'
import { readEmitterKey } from '../common/selection.ts'
import { useDesign, useView } from '../store/stores.ts'
import { BoardSpace, EmitterAim } from './BoardSpace.tsx'
import { commonValue } from './edits.ts'
import { LampChoice, LampNumber } from './fields.tsx'
import { Part } from './Part.tsx'
import { SelectionArray, SelectionGroup } from './SelectionArray.tsx'

const of = board.shape
const VARIED = 'varied…'
const USUAL = 'as the lamp…' // ids can't contain an ellipsis

export function SelectionPart() {
  const boards = useView((s) => s.boards)
  const emitters = useView((s) => s.emitters)
  if (boards.length === 0 && emitters.length === 0) return null
  const summary =
    emitters.length > 0
      ? `${emitters.length} ${emitters.length === 1 ? 'emitter' : 'emitters'}`
      : boards.length === 1
        ? boards[0]
        : `${boards.length} boards`
  return (
    <Part of="selection" title={`Selected: ${summary}`} edits="Selected">
      {emitters.length > 0 ? <EmitterFields keys={emitters} /> : <BoardFields ids={boards} />}
    </Part>
  )
}

const chosenOf = (lamp: Lamp, ids: readonly string[]): Board[] => {
  const wanted = new Set(ids)
  return lamp.boards.filter((b) => wanted.has(b.id))
}

function BoardFields({ ids }: { ids: readonly string[] }) {
  return (
    <>
      <Pose ids={ids} field="xMm" label={ids.length > 1 ? 'Middle, x' : 'x'} />
      <Pose ids={ids} field="yMm" label={ids.length > 1 ? 'Middle, y' : 'y'} />
      <Pose ids={ids} field="turnDeg" label={ids.length > 1 ? 'Turn together to' : 'Turn'} />
      <LampNumber
        label="Current"
        unit="A"
        step={0.05}
        of={of.currentA}
        description="Through each emitter of the board: one driver a board"
        read={(lamp) => commonValue(chosenOf(lamp, ids).map((b) => b.currentA))}
        write={(lamp, a) => withCurrent(lamp, ids, a)}
      />
      <OpticOf
        read={(lamp) =>
          commonValue(chosenOf(lamp, ids).map((b) => (hasSingles(b) ? VARIED : (b.optic ?? USUAL)))) ?? VARIED
        }
        write={(lamp, key) => withBoardOptic(lamp, ids, key === USUAL ? lamp.optic : key)}
      />
      <SelectionGroup ids={ids} />
      <TypeOf ids={ids} />
      <BoardSpace ids={ids} />
      <SelectionArray ids={ids} />
    </>
  )
}

const hasSingles = (b: Board) => b.siteOptics !== undefined && Object.keys(b.siteOptics).length > 0

function Pose({ ids, field, label }: { ids: readonly string[]; field: PoseField; label: string }) {
  return (
    <LampNumber
      label={label}
      unit={field === 'turnDeg' ? 'deg' : 'mm'}
      step={field === 'turnDeg' ? 1 : 0.5}
      of={of[field]}
      read={(lamp) => {
        const chosen = chosenOf(lamp, ids)
        if (chosen.length === 0) return null
        if (field === 'turnDeg') return chosen[0]!.turnDeg
        return middleOf(chosen)[field === 'xMm' ? 0 : 1]
      }}
      write={(lamp, v) => withPose(lamp, ids, field, v)}
    />
  )
}

function TypeOf({ ids }: { ids: readonly string[] }) {
  const types = useDesign((s) => s.lamp.boardTypes)
  const shared = useDesign((s) => commonValue(chosenOf(s.lamp, ids).map((b) => b.type)) ?? VARIED)
  if (types.length < 2) return null
  return (
    <LampChoice
      label="Board"
      options={[
        ...types.map((t) => ({ key: t.id, name: t.name })),
        ...(shared === VARIED ? [{ key: VARIED, name: 'varied' }] : []),
      ]}
      asTyped
      read={() => shared}
      write={(lamp, type) =>
        type === VARIED
          ? lamp
          : withBoards(lamp, ids, (b) => {
              const { siteOptics: _of, siteAims: _at, ...rest } = b // the emitters have changed
              return { ...rest, type }
            })
      }
    />
  )
}

function EmitterFields({ keys }: { keys: readonly string[] }) {
  return (
    <>
      <EmitterOptic keys={keys} />
      <EmitterAim keys={keys} />
    </>
  )
}

function EmitterOptic({ keys }: { keys: readonly string[] }) {
  return (
    <OpticOf
      read={(lamp) => {
        const rows = new Map(lamp.boards.map((b) => [b.id, b]))
        const found = keys.map((key) => {
          const { boardId, siteIndex } = readEmitterKey(key)
          const b = rows.get(boardId)
          return b?.siteOptics?.[siteIndex] ?? b?.optic ?? USUAL
        })
        return commonValue(found) ?? VARIED
      }}
      write={(lamp, key) => withEmitterOptic(lamp, keys, key === USUAL ? lamp.optic : key)}
    />
  )
}

function OpticOf({ read, write }: { read(lamp: Lamp): string; write(lamp: Lamp, key: string): Lamp }) {
  const types = useDesign((s) => s.lamp.opticTypes)
  const shown = useDesign((s) => read(s.lamp))
  return (
    <LampChoice
      label="Optic"
      description="Of these only; the lamp's usual optic stands under Optics"
      options={[
        { key: USUAL, name: 'as the lamp' },
        ...types.map((t) => ({ key: t.id, name: t.name })),
        ...(shown === VARIED ? [{ key: VARIED, name: 'varied' }] : []),
      ]}
      asTyped
      read={read}
      write={(lamp, key) => (key === VARIED ? lamp : write(lamp, key))}
    />
  )
}
