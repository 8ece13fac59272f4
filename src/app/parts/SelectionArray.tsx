// The selected boards' group, and arrays of them about the axis.
import { useState } from 'react'
import type { Lamp } from '../../lamp/schema.ts'
import { repeatAboutAxis, turnGroup } from '../../layout/arrange.ts'
import { boardLimitFault, replaced } from '../common/boardEdits.ts'
import { groupOfBoards, withBoardsIn, withNewGroup } from '../common/groupEdits.ts'
import { design, useDesign, view } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { ErrorText } from './ErrorText.tsx'
import { commonValue } from './edits.ts'
import { LampChoice } from './fields.tsx'

const VARIED = 'varied…'
const NEW = 'new…' // ids can't contain an ellipsis

export function SelectionGroup({ ids }: { ids: readonly string[] }) {
  const groups = useDesign((s) => s.lamp.power?.groups)
  const shared = useDesign((s) => sharedGroup(s.lamp, ids))
  return (
    <LampChoice
      label="Group"
      description="Boards that are driven alike and switched together"
      options={[
        ...(groups ?? [{ id: shared, name: 'All boards' }]).map((g) => ({ key: g.id, name: g.name })),
        { key: NEW, name: 'new group' },
        ...(shared === VARIED ? [{ key: VARIED, name: 'varied' }] : []),
      ]}
      read={() => shared}
      write={(lamp, group) => {
        if (group === VARIED) return lamp
        if (group !== NEW) return withBoardsIn(lamp, group, ids)
        const made = withNewGroup(lamp, ids)
        return 'why' in made ? lamp : made.lamp
      }}
    />
  )
}

function sharedGroup(lamp: Lamp, ids: readonly string[]): string {
  const wanted = new Set(ids)
  const of = groupOfBoards(lamp)
  return commonValue(of.filter((_, i) => wanted.has(lamp.boards[i]?.id ?? ''))) ?? VARIED
}

const chosenOf = (lamp: Lamp, ids: readonly string[]) => {
  const wanted = new Set(ids)
  return lamp.boards.filter((b) => wanted.has(b.id))
}

/** Repeats the selection around the axis, or turns it about the axis. */
export function SelectionArray({ ids }: { ids: readonly string[] }) {
  const [times, setTimes] = useState(6)
  const [turnDeg, setTurnDeg] = useState(60)
  const [why, setWhy] = useState<string | null>(null)
  const repeat = () => {
    const lamp = design.lamp()
    const more = repeatAboutAxis(
      chosenOf(lamp, ids),
      times,
      lamp.boards.map((b) => b.id),
    )
    const fault =
      more.length === 0 ? 'These boards lie on the axis: turned about it they stay there.' : boardLimitFault(lamp, more)
    setWhy(
      fault ??
        tryEdit(design, `Repeat ${times} times about the axis`, (now) => ({
          ...now,
          boards: [...now.boards, ...more],
        })),
    )
    if (fault === null) view.setState({ boards: [...ids, ...more.map((b) => b.id)], emitters: [] })
  }
  const turn = () =>
    setWhy(
      tryEdit(design, 'Turn about the axis', (lamp) => replaced(lamp, turnGroup(chosenOf(lamp, ids), turnDeg, 0, 0))),
    )
  return (
    <>
      <NumberField
        label="Times about the axis"
        unit=""
        step={1}
        min={2}
        max={360}
        integer
        value={times}
        description="The boards themselves counted, evenly around the axis"
        onSet={(n) => {
          setTimes(n)
          return null
        }}
      />
      <div className="parts-buttons">
        <Button kind="quiet" onPress={repeat}>
          Repeat about the axis
        </Button>
      </div>
      <NumberField
        label="Turn about the axis by"
        unit="deg"
        step={1}
        min={-360}
        max={360}
        value={turnDeg}
        description="All of them as one, anticlockwise"
        onSet={(deg) => {
          setTurnDeg(deg)
          return null
        }}
      />
      <div className="parts-buttons">
        <Button kind="quiet" onPress={turn}>
          Turn about the axis
        </Button>
      </div>
      <ErrorText why={why} />
    </>
  )
}
