// The page's side of the run of heat and power: one worker of its own.
import type { Finding } from '../../checks/finding.ts'
import type { PowerReport } from '../../electrothermal/result.ts'
import type { CallReply, CallRequest } from '../../engine/workers/calls.ts'
import { browserPort, type WorkerPort } from '../../engine/workers/port.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeNewest } from '../../num/scheduler.ts'
import type { LedgerLine } from '../beam/retainedLight.ts'
import { makeRestarting, type Trouble } from '../service/restarting.ts'
import type { PowerCalls } from './service.ts'

export interface PowerClient {
  /** Whatever was being run before is cancelled, and not heard of. */
  run(
    lamp: Lamp,
    ledger: readonly LedgerLine[] | null,
    onReport: (report: PowerReport, findings: Finding[]) => void,
    onFail: (why: string) => void,
  ): void
  /** Starts the worker at once, also one that is started no more by itself. */
  again(): void
  dispose(): void
}

const NAME = 'The worker of heat and power'

export function openPowerClient(
  onTrouble: (trouble: Trouble) => void = () => {},
  open: () => WorkerPort<CallRequest, CallReply> = openWorker,
): PowerClient {
  const client = makeRestarting<PowerCalls>(open, { name: NAME, work: 'run', onTrouble })
  const newest = makeNewest()
  return {
    run(lamp, ledger, onReport, onFail) {
      const signal = newest.start()
      client.call('run', { lamp, ledger }, { signal }).then(
        ({ report, findings }) => signal.aborted || onReport(report, findings),
        (error: Error) => signal.aborted || onFail(error.message),
      )
    },
    again: client.again,
    dispose() {
      newest.cancel()
      client.close()
    },
  }
}

const openWorker = () =>
  browserPort<CallRequest, CallReply>(new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' }), NAME)
