// Heat and power in their own thread: mode by mode, so that a newer lamp is heard of between two modes.
import type { Finding } from '../../checks/finding.ts'
import type { ModeRun, PowerReport } from '../../electrothermal/result.ts'
import type { Handlers } from '../../engine/workers/calls.ts'
import { makeNextTask } from '../../engine/workers/nextTask.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeScheduler, type Scheduler } from '../../num/scheduler.ts'
import { type LedgerLine, retainedByPilot, retainedFromLedger } from '../beam/retainedLight.ts'
import { powerFindings, preparePower } from './run.ts'

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
  const retained = ledger ? retainedFromLedger(ledger) : retainedByPilot(lamp)
  const prepared = preparePower(lamp, { retained })
  const runs: ModeRun[] = []
  for (const mode of prepared.modes) runs.push(await scheduler.run(prepared.judge(mode)))
  const report = prepared.report(runs)
  return { report, findings: powerFindings(lamp, report) }
}

export function makePowerService(): Handlers<PowerCalls> {
  const nextTask = makeNextTask()
  return { run: (request, { signal }) => runEveryMode(request, makeScheduler(signal, { nextTask })) }
}
