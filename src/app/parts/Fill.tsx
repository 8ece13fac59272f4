// Fills the face with boards: as many as fit or a wanted number, and states how many did not fit.

import { useState } from 'react'
import { fillInWorker } from '../../job/fill/client.ts'
import { LIMITS } from '../../lamp/limits.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { FillPattern } from '../../layout/fill.ts'
import { valueText } from '../common/units.ts'
import { design, useDesign, view } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { Toggle } from '../ui/Toggle.tsx'
import { ErrorText } from './ErrorText.tsx'
import { commonValue } from './edits.ts'
import { Part } from './Part.tsx'

const PATTERNS: readonly { key: FillPattern; name: string }[] = [
  { key: 'hexagonal', name: 'hexagonal' },
  { key: 'square', name: 'square' },
  { key: 'rings', name: 'rings' },
  { key: 'most', name: 'whichever holds most' },
]

/** Whether nothing that a fill rests on has changed: another part's edit meanwhile does not spoil it. */
const sameGround = (now: Lamp, then: Lamp) =>
  now.face === then.face &&
  now.boards === then.boards &&
  now.boardTypes === then.boardTypes &&
  now.emitterTypes === then.emitterTypes

export function Fill() {
  const system = useUnitSystem()
  const types = useDesign((s) => s.lamp.boardTypes)
  const present = useDesign((s) => s.lamp.boards.length)
  const clearanceMm = useDesign((s) => s.lamp.face.clearanceMm)
  const marginMm = useDesign((s) => s.lamp.face.marginMm)
  const [type, setType] = useState('')
  const [pattern, setPattern] = useState<FillPattern>('hexagonal')
  const [all, setAll] = useState(true)
  const [wanted, setWanted] = useState(() => Math.max(1, present))
  const [keep, setKeep] = useState(false)
  const [words, setWords] = useState('')
  const [why, setWhy] = useState<string | null>(null)
  const boardType = types.some((t) => t.id === type) ? type : types[0]!.id

  const fill = async () => {
    const lamp = design.lamp()
    const emitter = lamp.emitterTypes.find((e) => e.id === lamp.boardTypes.find((t) => t.id === boardType)?.emitter)
    setWords('Filling…')
    const filled = await fillInWorker(lamp, {
      boardType,
      pattern,
      clearanceMm: lamp.face.clearanceMm,
      marginMm: lamp.face.marginMm,
      wanted: all ? undefined : wanted,
      keep: keep ? lamp.boards : undefined,
      currentA: commonValue(lamp.boards.map((b) => b.currentA)) ?? emitter?.ratedCurrentA ?? 1,
    }).catch((error: Error) => error.message)
    if (typeof filled === 'string') {
      setWords('')
      setWhy(filled)
      return
    }
    if (!sameGround(design.lamp(), lamp)) {
      setWords('The lamp has changed meanwhile; fill again.')
      return
    }
    setWords(filled.words)
    const fault = tryEdit(design, 'Fill the face', (now) => ({
      ...now,
      boards: keep ? [...now.boards, ...filled.boards] : filled.boards,
    }))
    setWhy(fault)
    if (fault === null) view.setState({ boards: [], emitters: [] })
  }

  return (
    <Part of="fill" title="Fill with boards" summary={`${present} now`} level={3}>
      {types.length > 1 && (
        <Choice
          label="Board"
          value={boardType}
          options={types.map((t) => ({ key: t.id, name: t.name }))}
          asTyped
          onChoose={setType}
        />
      )}
      <Choice
        label="Pattern"
        value={pattern}
        options={PATTERNS}
        description="The last tries every pattern, and a free arrangement of a few round boards"
        onChoose={(key) => setPattern(key)}
      />
      <Toggle label="As many as fit" value={all} onChange={setAll} />
      {!all && (
        <NumberField
          label="Boards wanted"
          unit=""
          step={1}
          min={1}
          max={LIMITS.boards}
          integer
          value={wanted}
          onSet={(n) => {
            setWanted(n)
            return null
          }}
        />
      )}
      <Toggle
        label="Keep the boards that are there"
        description="The fill goes around them; otherwise it replaces them"
        value={keep}
        onChange={setKeep}
      />
      <p className="parts-note">
        Leaves the face’s own {valueText(clearanceMm, 'mm', system)} between boards and{' '}
        {valueText(marginMm, 'mm', system)} to the edge.
      </p>
      <div className="parts-buttons">
        <Button onPress={() => void fill()}>{keep ? 'Fill around them' : 'Fill the face'}</Button>
      </div>
      <p role="status" className="parts-note">
        {words}
      </p>
      <ErrorText why={why} />
    </Part>
  )
}
