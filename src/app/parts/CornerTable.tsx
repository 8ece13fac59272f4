// The corners of an outline as a short table.

import { LIMITS } from '../../lamp/limits.ts'
import type { Lamp } from '../../lamp/schema.ts'
import * as z from '../../lamp/zod.ts'
import type { Corner } from '../../num/polygon.ts'
import { useDesign } from '../store/stores.ts'
import { useUnitSystem } from '../store/unitSystem.ts'
import { cornersText } from './outlineEdits.ts'
import { PairTable } from './PairTable.tsx'

/** Longer lists come from drawings, and are edited there. */
const MOST_ROWS = 60

const coordinate = z.number().min(-LIMITS.faceMm).max(LIMITS.faceMm)

interface Row {
  xMm: number
  yMm: number
}
const rowsOf = new WeakMap<readonly Corner[], Row[]>()
const NONE: readonly Corner[] = []

/** Memoized: every cell asks for all rows at each change of the lamp. */
function toRows(corners: readonly Corner[]): Row[] {
  const rows = rowsOf.get(corners) ?? corners.map(([xMm, yMm]) => ({ xMm, yMm }))
  rowsOf.set(corners, rows)
  return rows
}

export interface CornerTableProps {
  read(lamp: Lamp): readonly Corner[] | undefined
  write(lamp: Lamp, corners: Corner[]): Lamp
}

export function CornerTable({ read, write }: CornerTableProps) {
  const system = useUnitSystem()
  const corners = useDesign((s) => read(s.lamp)) ?? NONE
  if (corners.length > MOST_ROWS)
    return (
      <p className="parts-note">
        {cornersText(corners, system)}: too many for a table; change the drawing and open it again.
      </p>
    )
  return (
    <PairTable
      title="Corners"
      first={{ key: 'xMm', name: 'x', unit: 'mm', of: coordinate, step: 1 }}
      second={{ key: 'yMm', name: 'y', unit: 'mm', of: coordinate, step: 1 }}
      least={3}
      add={addCorner}
      read={(lamp) => toRows(read(lamp) ?? NONE)}
      write={(lamp, rows) =>
        write(
          lamp,
          rows.map((r): Corner => [r.xMm, r.yMm]),
        )
      }
    />
  )
}

/** In the middle of the longest edge, after the corner that it begins at. */
function addCorner(rows: readonly Row[]): Row[] {
  const next = (i: number) => rows[(i + 1) % rows.length]!
  let at = 0
  let longest = 0
  for (const [i, r] of rows.entries()) {
    const long = Math.hypot(next(i).xMm - r.xMm, next(i).yMm - r.yMm)
    if (long > longest + 1e-9) [at, longest] = [i, long]
  }
  const tidy = (mm: number) => Math.round(mm * 1e3) / 1e3
  const [a, b] = [rows[at]!, next(at)]
  const middle = { xMm: tidy((a.xMm + b.xMm) / 2), yMm: tidy((a.yMm + b.yMm) / 2) }
  return [...rows.slice(0, at + 1), middle, ...rows.slice(at + 1)]
}
