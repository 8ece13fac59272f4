// Heat and power, and what each lamp is made of, side by side.
import { useMemo } from 'react'
import { heatRows, massRows, type WordRow } from '../../report/compare.ts'
import { partRows } from '../../report/compareParts.ts'
import { type ComparedLamp, useReads } from '../store/compare.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { WordTable, type WordTableRow } from './WordTable.tsx'

export function HeatPane({ lamps }: { lamps: readonly ComparedLamp[] }) {
  const heat = heatRows(useReads(), useUnitSystem())
  if (heat.length === 0) return <p className="compare-quiet">Heat is read once every lamp has its light.</p>
  return (
    <div className="compare-tables">
      <WordTable caption="Heat and power" lamps={lamps} rows={heat.map(plainRow)} />
      <p className="compare-quiet">
        Computed, not traced: without a ± of tracing. The light that stays in each lamp is that of its own trace.
      </p>
    </div>
  )
}

export function PartsPane({ lamps }: { lamps: readonly ComparedLamp[] }) {
  const system = useUnitSystem()
  const reads = useReads()
  const parts = massRows(reads, system)
  const list = useMemo(() => partRows(reads, system), [reads, system])
  return (
    <div className="compare-tables">
      <WordTable caption="Mass and price" lamps={lamps} rows={parts.map(plainRow)} />
      {list.rows.length > 0 && (
        <WordTable
          caption="What it takes more or less of"
          lamps={lamps}
          rows={list.rows.map(({ name, size, cells, marks }) => ({
            key: `${name} ${size}`,
            name: (
              <>
                {name}
                {size !== '' && <small className="compare-size">{size}</small>}
              </>
            ),
            cells,
            marks,
          }))}
        />
      )}
      <p className="compare-quiet">
        {list.rows.length === 0
          ? `All ${list.alike} rows of the parts lists are alike.`
          : `${list.alike} rows are alike.`}
      </p>
    </div>
  )
}

const plainRow = ({ name, cells }: WordRow): WordTableRow => ({
  key: name,
  name,
  cells,
  marks: cells.map((cell, i) => (i > 0 ? markOf(cells[0] ?? null, cell) : null)),
})

const NONE = '–'

function markOf(a: string | null, b: string | null): string | null {
  if (a === null || b === null || a === b) return null
  return a === NONE ? 'only here' : b === NONE ? 'not here' : 'differs'
}
