// The sets of readings, and how each was read: when, in which light and air, how well its places are known.
import { useState } from 'react'
import type { ReadingSet } from '../../lamp/readings.ts'
import { setWords } from '../../report/measuring.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { NumberField } from '../ui/NumberField.tsx'
import { Table } from '../ui/Table.tsx'
import { TextField } from '../ui/TextField.tsx'

export function Sets({ sets }: { sets: readonly ReadingSet[] }) {
  const [chosen, choose] = useState<string | null>(null)
  const system = useUnitSystem()
  const open = sets.find((s) => s.id === chosen)
  const remove = (id: string) =>
    tryEdit(design, `Readings “${id}” removed`, (lamp) => ({
      ...lamp,
      readings: { ...lamp.readings, sets: (lamp.readings?.sets ?? []).filter((s) => s.id !== id) },
    }))
  return (
    <>
      <Table
        caption="Sets of readings"
        showCaption
        rows={sets}
        rowKey={(s) => s.id}
        columns={[
          { key: 'id', name: 'Set', of: (s) => s.id, words: true, heading: true },
          { key: 'what', name: 'What', of: (s) => setWords(s, system), words: true },
          { key: 'when', name: 'When', of: (s) => s.when ?? '', words: true },
          {
            key: 'how',
            name: <span className="ui-hidden">How it was read</span>,
            of: (s) => (
              <Button kind="quiet" name={`How ${s.id} was read`} onPress={() => choose(chosen === s.id ? null : s.id)}>
                {chosen === s.id ? 'Done' : 'How it was read…'}
              </Button>
            ),
          },
          {
            key: 'remove',
            name: <span className="ui-hidden">Remove</span>,
            of: (s) => (
              <Button kind="quiet" name={`Remove ${s.id}`} onPress={() => remove(s.id)}>
                ✕
              </Button>
            ),
          },
        ]}
      />
      {open && <HowRead key={open.id} of={open} />}
    </>
  )
}

/** One field of a set as one step of history; undefined takes it away. */
function change(id: string, label: string, part: Record<string, unknown>): string | null {
  return tryEdit(design, `${label} of “${id}”`, (lamp) => {
    const sets = (lamp.readings?.sets ?? []).map((s) => {
      if (s.id !== id) return s
      return Object.fromEntries(Object.entries({ ...s, ...part }).filter(([, v]) => v !== undefined)) as ReadingSet
    })
    return { ...lamp, readings: { ...lamp.readings, sets } }
  })
}

const TRACED = 'the light that is traced'

function HowRead({ of: set }: { of: ReadingSet }) {
  const modes = useDesign((s) => s.lamp.power?.modes)
  const isWall = set.kind === 'line' || set.kind === 'grid'
  const number = (name: string, label: string, unit: 's' | '°C' | 'lx' | 'm' | 'mm', rest: Rest) => (
    <NumberField
      key={name}
      label={label}
      value={((set as Record<string, unknown>)[name] as number | undefined) ?? null}
      unit={unit}
      whenEmpty="not stated"
      step={1}
      {...rest}
      onSet={(value) => change(set.id, label, { [name]: value })}
      {...(rest.needed ? {} : { onClear: () => change(set.id, label, { [name]: undefined }) })}
    />
  )
  return (
    <section className="readings-how" aria-label={`How ${set.id} was read`}>
      <TextField
        label="When"
        value={set.when ?? ''}
        maxLength={200}
        description="A date, or any words"
        onSet={(when) => change(set.id, 'Date', { when: when === '' ? undefined : when })}
      />
      {modes && (
        <Choice
          label="Mode"
          value={set.mode ?? ''}
          options={[{ key: '', name: TRACED }, ...modes.map((m) => ({ key: m.id, name: m.name }))]}
          asTyped
          description="In which the lamp ran"
          onChoose={(mode) => change(set.id, 'Mode', { mode: mode === '' ? undefined : mode })}
        />
      )}
      {set.kind !== 'time' &&
        set.kind !== 'running' &&
        number('afterS', 'After switch-on', 's', {
          min: 0,
          max: 1e7,
          description: '30 s where nothing is stated (FL 1)',
        })}
      {number('ambientC', 'Air', '°C', { min: -60, max: 500, description: 'Of the room, near the lamp' })}
      {set.kind !== 'running' &&
        number('strayLx', 'Stray light', 'lx', {
          min: 0,
          max: 1e9,
          description: 'With the lamp off or shaded; it is subtracted',
        })}
      {isWall && number('distanceM', 'Wall at', 'm', { min: 0.05, max: 10_000, step: 0.5, needed: true })}
      {(isWall || set.kind === 'axis') &&
        number('distanceDoubtMm', 'Distance known to ±', 'mm', {
          min: 0,
          max: 100_000,
          description: 'A standard uncertainty',
        })}
      {isWall &&
        number('placeDoubtMm', 'Places known to ±', 'mm', {
          min: 0,
          max: 10_000,
          description: 'A standard uncertainty',
        })}
    </section>
  )
}

interface Rest {
  min: number
  max: number
  step?: number
  description?: string
  /** It can't be taken away. */
  needed?: true
}
