// Typed or pasted readings become sets of the lamp; what can't be read is said line by line, and the text stays.
import { useId, useState } from 'react'
import type { ReadingSet, Readings } from '../../lamp/readings.ts'
import { parseReadings } from '../../readings/parse.ts'
import { readings } from '../store/readings.ts'
import { design } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'

type Kind = 'line' | 'axis' | 'time'
const KINDS: readonly { key: Kind; name: string }[] = [
  { key: 'line', name: 'Line on a wall' },
  { key: 'axis', name: 'Along the axis' },
  { key: 'time', name: 'Over time' },
]
const EXAMPLES: Record<Kind, string> = {
  line: 'across mm   lx\n0   8000\n250   6400\n500   3200',
  axis: 'distance m   lx\n5   32000\n10   8000',
  time: 'time s   lx\n30   8000\n600   7400',
}

export function AddReadings() {
  const id = useId()
  const [text, setText] = useState('')
  const [kind, setKind] = useState<Kind>('line')
  const [wallM, setWallM] = useState(10)
  const [reply, setReply] = useState<{ why: string[]; notes: string[] }>({ why: [], notes: [] })
  const add = () => {
    const taken = design.lamp().readings?.sets.map((s) => s.id) ?? []
    const parsed = parseReadings(text, { kind, defaults: kind === 'line' ? { wallM } : {}, taken })
    if (!parsed.ok) return setReply(parsed)
    const names = parsed.sets.map((s) => s.id).join(', ')
    const fault = tryEdit(design, `Readings: ${names}`, (lamp) => ({
      ...lamp,
      readings: joined(lamp.readings, parsed.sets),
    }))
    setReply({ why: fault ? [fault] : [], notes: parsed.notes })
    if (fault) return
    setText('')
    readings.setState({ announcement: `Added: ${names}.` })
  }
  return (
    <section className="readings-add" aria-label="Add readings">
      <div className="readings-row">
        <Choice label="Readings" segments value={kind} options={KINDS} onChoose={(k: Kind) => setKind(k)} />
        {kind === 'line' && (
          <NumberField
            label="Wall at"
            value={wallM}
            unit="m"
            min={0.05}
            max={10_000}
            step={0.5}
            description="From the lamp’s front to the wall"
            onSet={(value) => {
              setWallM(value)
              return null
            }}
          />
        )}
      </div>
      <label htmlFor={id} className="readings-label">
        Type or paste a table: place and lux, with headings or without
      </label>
      <textarea
        id={id}
        className="ui-input ui-area readings-text"
        rows={6}
        spellCheck={false}
        placeholder={EXAMPLES[kind]}
        value={text}
        onChange={(event) => setText(event.currentTarget.value)}
      />
      <div className="readings-row">
        <Button kind="strong" isDisabled={text.trim() === ''} onPress={add}>
          Add
        </Button>
        <span className="readings-quiet">
          Units in the heading (lx, fc; mm, cm, m, in, ft). Lines such as “mode: high” or “stray: 0.3 lx” may stand
          above.
        </span>
      </div>
      <div role="alert">
        {reply.why.length > 0 && (
          <ul className="readings-why">
            {reply.why.map((why) => (
              <li key={why}>{why}</li>
            ))}
          </ul>
        )}
      </div>
      {reply.notes.length > 0 && (
        <ul className="readings-quiet">
          {reply.notes.map((note) => (
            <li key={note}>{note}</li>
          ))}
        </ul>
      )}
    </section>
  )
}

/** The one meter of all new sets of lux becomes that of the lamp, where it has none. */
function joined(old: Readings | undefined, fresh: readonly ReadingSet[]): Readings {
  const lit = fresh.filter((s) => s.kind !== 'running')
  const meters = new Set(lit.map((s) => JSON.stringify(s.meter ?? null)))
  const [first] = lit
  if (old?.meter || meters.size !== 1 || !first?.meter) return { ...old, sets: [...(old?.sets ?? []), ...fresh] }
  return { meter: first.meter, sets: [...(old?.sets ?? []), ...fresh.map(({ meter: _, ...set }) => set)] }
}
