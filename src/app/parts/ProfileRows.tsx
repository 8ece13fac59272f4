// The rows of an angular profile that is a table, in a fold.
import { profile } from '../../lamp/parts.ts'
import type { Lamp, Profile } from '../../lamp/schema.ts'
import { rowAdded } from './model/emitterCurve.ts'
import { PairTable } from './PairTable.tsx'
import { Part } from './Part.tsx'

const [, , table] = profile.options

/** Longer tables come from files and are not shown for editing. */
const MAX_ROWS = 60

interface ProfileRowsProps {
  /** Name of the fold, what it edits, and the table's title. */
  of: string
  edits: string
  title: string
  count: number
  read: (lamp: Lamp) => Profile | undefined
  write: (lamp: Lamp, profile: Extract<Profile, { kind: 'table' }>) => Lamp
}

export function ProfileRows({ of, edits, title, count, read, write }: ProfileRowsProps) {
  return (
    <Part of={of} title="Rows of the table" summary={`${count}`} level={3} edits={edits}>
      {count > MAX_ROWS ? (
        <p className="parts-note">{count} rows, too many for this column. They stand in the lamp file.</p>
      ) : (
        <PairTable
          title={title}
          first={{ key: 'thetaDeg', name: 'From the axis', unit: 'deg', of: table.shape.thetaDeg.element, step: 1 }}
          second={{
            key: 'intensity',
            name: 'Intensity, relative',
            unit: '',
            of: table.shape.intensity.element,
            step: 0.01,
          }}
          least={1}
          add={rowAdded}
          read={(lamp) => rowsOf(read(lamp))}
          write={(lamp, rows) => write(lamp, fromRows(rows))}
        />
      )}
    </Part>
  )
}

interface Row {
  thetaDeg: number
  intensity: number
}

export const rowsOf = (p: Profile | undefined): Row[] =>
  p?.kind === 'table' ? p.thetaDeg.map((thetaDeg, i) => ({ thetaDeg, intensity: p.intensity[i]! })) : []

export const fromRows = (rows: readonly Row[]): Extract<Profile, { kind: 'table' }> => ({
  kind: 'table',
  thetaDeg: rows.map((r) => r.thetaDeg),
  intensity: rows.map((r) => r.intensity),
})
