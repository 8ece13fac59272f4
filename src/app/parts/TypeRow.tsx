// Head of a list of types: select, duplicate, delete.
import { useState } from 'react'
import type { Lamp } from '../../lamp/schema.ts'
import { design, useDesign } from '../store/stores.ts'
import { tryEdit } from '../store/tryEdit.ts'
import { Button } from '../ui/Button.tsx'
import { Choice } from '../ui/Choice.tsx'
import { ErrorText } from './ErrorText.tsx'
import { withoutType } from './edits.ts'

/** The selected row of a list; the first when that row has been deleted. */
export function useRow(rows: readonly { id: string }[]): [string, (id: string) => void] {
  const [id, setId] = useState('')
  return [rows.some((r) => r.id === id) ? id : rows[0]!.id, setId]
}

export interface TypeRowProps {
  list: 'emitterTypes' | 'opticTypes' | 'boardTypes'
  /** "emitter", for labels. */
  what: string
  id: string
  choose(id: string): void
  /** The lamp with a duplicate, and the duplicate's id. */
  copy(): { lamp: Lamp; id: string }
  canDelete(lamp: Lamp): boolean
}

export function TypeRow(p: TypeRowProps) {
  const rows = useDesign((s) => s.lamp[p.list])
  const deletable = useDesign((s) => p.canDelete(s.lamp))
  return (
    <TypeListHead
      {...p}
      rows={rows}
      another={() => {
        const next = p.copy()
        return { id: next.id, why: tryEdit(design, `Another ${p.what}`, () => next.lamp) }
      }}
      remove={() => tryEdit(design, `Delete ${p.what}`, (lamp) => withoutType(lamp, p.list, p.id))}
      keptReason={deletable ? undefined : 'In use, or the last one'}
    />
  )
}

/** Head of a list: select, duplicate, delete. */
export function TypeListHead(p: {
  rows: readonly { id: string; name: string }[]
  what: string
  id: string
  choose(id: string): void
  /** Makes a duplicate; `why`: the reason if refused. */
  another(): { id: string; why: string | null }
  /** Returns why it was refused, or null. */
  remove(): string | null
  /** Why it can't be deleted. */
  keptReason: string | undefined
}) {
  const [why, setWhy] = useState<string | null>(null)
  return (
    <div className="parts-type">
      {p.rows.length > 1 && (
        <Choice
          label={`Shown ${p.what}`}
          value={p.id}
          options={p.rows.map((r) => ({ key: r.id, name: r.name }))}
          asTyped
          onChoose={p.choose}
        />
      )}
      <div className="parts-buttons">
        <Button
          kind="quiet"
          name={`Another ${p.what} like this`}
          onPress={() => {
            const made = p.another()
            setWhy(made.why)
            if (made.why === null) p.choose(made.id)
          }}
        >
          + Another
        </Button>
        <Button
          kind="quiet"
          name={`Delete this ${p.what}`}
          hint={p.keptReason}
          isDisabled={p.keptReason !== undefined}
          onPress={() => setWhy(p.remove())}
        >
          Delete
        </Button>
      </div>
      <ErrorText why={why} />
    </div>
  )
}
