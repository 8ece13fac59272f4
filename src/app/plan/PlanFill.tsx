// Filling the face with boards of one type, and what came of it in words.
import { useState } from 'react'
import { Button, Dialog, DialogTrigger, Popover } from 'react-aria-components'
import { LIMITS } from '../../lamp/limits.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { FillPattern } from '../../layout/fill.ts'
import { usualCurrentA } from '../measure/planMarks.ts'
import { fillAside } from '../store/fillAside.ts'
import { plan } from '../store/plan.ts'
import { design, useDesign, view } from '../store/stores.ts'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { Push } from '../ui/Push.tsx'
import { Toggle } from '../ui/Toggle.tsx'

const PATTERNS: readonly { key: FillPattern; name: string }[] = [
  { key: 'hexagonal', name: 'Hexagonal' },
  { key: 'square', name: 'Square' },
  { key: 'rings', name: 'Rings' },
  { key: 'most', name: 'Most' },
]

interface Wish {
  type: string
  pattern: FillPattern
  most: boolean
  wanted: number
  clearanceMm: number
  marginMm: number
  keep: boolean
}

export function PlanFill() {
  return (
    <DialogTrigger>
      <Button className="ui-button">Fill…</Button>
      <Popover className="ui-popover plan-panel">
        <Dialog className="plan-panel-body" aria-label="Fill the face with boards">
          <Panel />
        </Dialog>
      </Popover>
    </DialogTrigger>
  )
}

function Panel() {
  const types = useDesign((s) => s.lamp.boardTypes)
  const face = useDesign((s) => s.lamp.face)
  const [wish, setWish] = useState<Wish>({
    type: plan.getState().placeType ?? types[0]!.id,
    pattern: 'hexagonal',
    most: true,
    wanted: 19,
    clearanceMm: face.clearanceMm,
    marginMm: face.marginMm,
    keep: false,
  })
  const [words, setWords] = useState('')
  const take = (change: Partial<Wish>) => {
    setWish({ ...wish, ...change })
    return null
  }
  return (
    <>
      <Choice
        label="Board"
        value={wish.type}
        options={types.map((t) => ({ key: t.id, name: t.name }))}
        onChoose={(type) => take({ type })}
      />
      <Choice
        label="Pattern"
        value={wish.pattern}
        options={PATTERNS}
        segments
        onChoose={(pattern) => take({ pattern })}
      />
      <Toggle label="As many as fit" value={wish.most} onChange={(most) => take({ most })} />
      {!wish.most && (
        <NumberField
          label="Wanted"
          unit=""
          value={wish.wanted}
          step={1}
          min={1}
          max={LIMITS.boards}
          onSet={(n) => take({ wanted: Math.round(n) })}
        />
      )}
      <NumberField
        label="Gap between boards"
        unit="mm"
        value={wish.clearanceMm}
        step={0.1}
        min={0}
        max={200}
        onSet={(clearanceMm) => take({ clearanceMm })}
      />
      <NumberField
        label="To the edge"
        unit="mm"
        value={wish.marginMm}
        step={0.5}
        min={0}
        max={500}
        onSet={(marginMm) => take({ marginMm })}
      />
      <Toggle label="Keep the boards that are there" value={wish.keep} onChange={(keep) => take({ keep })} />
      <div className="plan-panel-foot">
        <Push
          kind="strong"
          onPush={() => {
            setWords('Filling…')
            void fill(wish).then(setWords)
          }}
        >
          Fill the face
        </Push>
      </div>
      <p className="plan-result" role="status">
        {words}
      </p>
    </>
  )
}

/** One step of history; the gap and margin asked for become the face's own. */
async function fill(wish: Wish): Promise<string> {
  const before = design.lamp()
  const type = before.boardTypes.find((t) => t.id === wish.type) ?? before.boardTypes[0]!
  const rated = before.emitterTypes.find((e) => e.id === type.emitter)?.ratedCurrentA ?? 1
  const filled = await fillAside(before, {
    boardType: type.id,
    pattern: wish.pattern,
    clearanceMm: wish.clearanceMm,
    marginMm: wish.marginMm,
    currentA: usualCurrentA(before) ?? rated,
    ...(wish.most ? {} : { wanted: wish.wanted }),
    ...(wish.keep ? { keep: before.boards } : {}),
  })
  if (design.lamp() !== before) return 'The lamp has changed meanwhile; fill again.'
  design.edit(
    'Fill the face',
    (lamp): Lamp => ({
      ...lamp,
      face: { ...lamp.face, clearanceMm: wish.clearanceMm, marginMm: wish.marginMm },
      boards: wish.keep ? [...lamp.boards, ...filled.boards] : filled.boards,
    }),
  )
  view.setState({ boards: [], emitters: [], pointed: null })
  plan.setState({ takes: 'boards', said: filled.words, fault: null })
  return filled.words
}
