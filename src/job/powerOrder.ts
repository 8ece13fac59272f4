// A run of heat and power, mode by mode, so that a newer lamp is heard of between two modes.
import type { Finding } from '../checks/finding.ts'
import type { Lamp } from '../lamp/schema.ts'
import { powerOf } from '../library/typicalPower.ts'
import { powerFindings, runPower } from './power.ts'
import type { PowerReport } from './powerResult.ts'

export interface PowerOrder {
  turn: number
  lamp: Lamp
}

export type PowerAnswer =
  | { turn: number; ok: true; report: PowerReport; findings: Finding[] }
  | { turn: number; ok: false; why: string }

/** Null: a newer lamp has taken its place. */
export async function carryOutPower(
  { turn, lamp }: PowerOrder,
  isOld: () => boolean,
  breathe: () => Promise<void>,
): Promise<PowerAnswer | null> {
  try {
    const reports: PowerReport[] = []
    for (const mode of powerOf(lamp).value.modes) {
      await breathe()
      if (isOld()) return null
      reports.push(runPower(lamp, { mode: mode.id }))
    }
    // The schema wants one mode at least; what isn't of a mode is the same in each report.
    const report = { ...reports[0]!, modes: reports.flatMap((r) => r.modes) }
    return { turn, ok: true, report, findings: powerFindings(lamp, report) }
  } catch (error) {
    return { turn, ok: false, why: error instanceof Error ? error.message : String(error) }
  }
}
