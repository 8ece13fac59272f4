// A comparison of up to four lamps: a column for each, as plain data.
import type { Part } from '../../bill/part.ts'
import type { CentreOfGravity, MassSum, PartsList } from '../../bill/partsList.ts'
import type { ModeRun } from '../../electrothermal/result.ts'
import type { ProfilePlot, Sheet } from '../beam/sheet.ts'
import type { ClearOf, DangerReading } from '../danger/result.ts'
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
  /** What the night is drawn from, with the profile. */
  night: Pick<Sheet, 'directionMap' | 'emittedColour' | 'beamColour'> | null
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

export interface ColumnDanger {
  /** As on the lamp's own danger sheet: upper ends. */
  reading: DangerReading
  /** The same judged without ±: how far the upper ends lie above says how sure they are. */
  means: Pick<DangerReading, 'things'> & { clear: readonly ClearOf[] }
  /** From few rays. */
  rough: boolean
}

export interface ColumnParts {
  list: readonly Part[]
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

/** The light comes first, then heat, then the dangers; these take longest. */
export type LitColumn = Pick<Column, 'light' | 'parts'>
export type ColumnSoFar = LitColumn & Partial<Column>
