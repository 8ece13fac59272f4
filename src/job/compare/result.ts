// A comparison of up to four lamps: a column for each, as plain data.
import type { CentreOfGravity, MassSum, PartsList } from '../../bill/partsList.ts'
import type { ModeRun } from '../../electrothermal/result.ts'
import type { ProfilePlot, Sheet } from '../beam/sheet.ts'
import type { DangerReading } from '../danger/result.ts'
import type { CellReading } from '../sweep/cell.ts'
import type { SweptFigures } from '../sweep/figures.ts'

export const MOST_COLUMNS = 4
/** Short traces with further seeds, the same for every lamp: the k-th of one lamp and the k-th of another are a pair. */
export const PAIRS = 8

export type ColumnFinding = CellReading['findings'][number]

export interface ColumnLight extends Omit<CellReading, 'absent'> {
  absent: Record<string, string>
  /** Why there is no light; null where there is. */
  why: string | null
  profile: Pick<ProfilePlot, 'thetaDeg' | 'cd' | 'seCd'> | null
  pairs: readonly SweptFigures[]
  /** Empty without light. */
  ledger: Sheet['ledger']
}

export interface ColumnMode extends Pick<ModeRun, 'id' | 'name' | 'limit' | 'limits'> {
  junctionMaxC: number
  plateMaxC: number
  /** From the supply, at switch-on. */
  startW: number
}

export interface ColumnHeat {
  modes: readonly ColumnMode[]
  findings: readonly ColumnFinding[]
}

/** By few rays; upper ends. */
export type ColumnDanger = Pick<DangerReading, 'clear' | 'eye' | 'worstKWm2'> & { findings: readonly ColumnFinding[] }

export interface ColumnParts {
  rows: number
  pieces: number
  emitters: number
  mass: MassSum
  apart: MassSum
  cost: PartsList['cost']
  centreZMm: CentreOfGravity['zMm'] | null
}

export interface Column {
  light: ColumnLight
  heat: ColumnHeat
  danger: ColumnDanger
  parts: ColumnParts
}

/** The light comes first; heat and danger take longer. */
export type LitColumn = Pick<Column, 'light' | 'parts'>
export type ColumnSoFar = LitColumn & Partial<Column>
