// A run of heat and power, mode by mode, so that a newer lamp is heard of between two modes.
import type { Finding } from '../../checks/finding.ts'
import type { PowerReport } from '../../electrothermal/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { type LedgerLine, retainedByPilot, retainedFromLedger } from '../beam/lightKept.ts'
import { powerFindings, runPower } from './power.ts'

export interface PowerOrder {
  turn: number
  lamp: Lamp
  /** Of the lamp's beam sheet; null while there is none: then a pilot tells what light stays in the lamp. */
  ledger: readonly LedgerLine[] | null
}

export type PowerAnswer =
  | { turn: number; ok: true; report: PowerReport; findings: Finding[] }
  | { turn: number; ok: false; why: string }

/** Null: a newer lamp has taken its place. */
export async function carryOutPower(
  { turn, lamp, ledger }: PowerOrder,
  isOld: () => boolean,
  breathe: () => Promise<void>,
): Promise<PowerAnswer | null> {
  try {
    const kept = ledger ? retainedFromLedger(ledger) : retainedByPilot(lamp)
    const reports: PowerReport[] = []
    for (const mode of powerOf(lamp).value.modes) {
      await breathe()
      if (isOld()) return null
      reports.push(runPower(lamp, { mode: mode.id, kept }))
    }
    // The schema wants one mode at least; what isn't of a mode is the same in each report.
    const report = { ...reports[0]!, modes: reports.flatMap((r) => r.modes) }
    return { turn, ok: true, report, findings: powerFindings(lamp, report) }
  } catch (error) {
    return { turn, ok: false, why: error instanceof Error ? error.message : String(error) }
  }
}
