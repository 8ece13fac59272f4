// Heat and power in their own thread: mode by mode, so that a newer lamp is heard of between two modes.
import type { Finding } from '../../checks/finding.ts'
import type { PowerReport } from '../../electrothermal/result.ts'
import type { Handlers } from '../../engine/workers/calls.ts'
import { makeNextTask } from '../../engine/workers/nextTask.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { powerOf } from '../../library/typicalPower.ts'
import { makeScheduler, type Scheduler } from '../../num/scheduler.ts'
import { keptByPilot, keptFromLedger, type LedgerLine } from '../beam/lightKept.ts'
import { powerFindings, runPower } from './run.ts'

export interface PowerRequest {
  lamp: Lamp
  /** Of the lamp's beam sheet; null while there is none: then a pilot run says what light stays in the lamp. */
  ledger: readonly LedgerLine[] | null
}
export interface PowerResult {
  report: PowerReport
  findings: Finding[]
}
export type PowerCalls = { run: { args: PowerRequest; event: never; result: PowerResult } }

/** Every mode of the lamp. Throws `Cancelled` between two modes. */
export async function runEveryMode({ lamp, ledger }: PowerRequest, scheduler: Scheduler): Promise<PowerResult> {
  const kept = ledger ? keptFromLedger(ledger) : keptByPilot(lamp)
  const reports: PowerReport[] = []
  for (const mode of powerOf(lamp).value.modes) {
    await scheduler.checkpoint()
    reports.push(runPower(lamp, { mode: mode.id, kept }))
  }
  // The schema wants one mode at least; what isn't of a mode is the same in each report.
  const report = { ...reports[0]!, modes: reports.flatMap((r) => r.modes) }
  return { report, findings: powerFindings(lamp, report) }
}

export function makePowerService(): Handlers<PowerCalls> {
  const nextTask = makeNextTask()
  return { run: (request, { signal }) => runEveryMode(request, makeScheduler(signal, { nextTask })) }
}
