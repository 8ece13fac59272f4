// The page's end of the run of heat and power: one worker of its own.
import type { Finding } from '../../checks/finding.ts'
import type { PowerReport } from '../../electrothermal/result.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { LedgerLine } from '../beam/lightKept.ts'
import type { PowerAnswer, PowerOrder } from './order.ts'

export interface PowerDesk {
  /** Whatever was being run before is dropped, and not heard of. */
  run(
    lamp: Lamp,
    ledger: readonly LedgerLine[] | null,
    onReport: (report: PowerReport, findings: Finding[]) => void,
    onFail: (why: string) => void,
  ): void
  dispose(): void
}

/** What of a worker is used. */
export interface PowerPost {
  post(order: PowerOrder): void
  close(): void
}

export type OpenPowerPost = (onAnswer: (answer: PowerAnswer) => void, onBroken: (why: string) => void) => PowerPost

export function openPowerDesk(open: OpenPowerPost = browserPost): PowerDesk {
  let turn = 0
  let onReport: (report: PowerReport, findings: Finding[]) => void = () => {}
  let onFail: (why: string) => void = () => {}
  const post = open(
    (answer) => {
      if (answer.turn !== turn) return
      if (answer.ok) onReport(answer.report, answer.findings)
      else onFail(answer.why)
    },
    (why) => onFail(why),
  )
  return {
    run(lamp, ledger, report, fail) {
      turn++
      onReport = report
      onFail = fail
      post.post({ turn, lamp, ledger })
    },
    dispose() {
      turn++
      onReport = () => {}
      onFail = () => {}
      post.close()
    },
  }
}

const browserPost: OpenPowerPost = (onAnswer, onBroken) => {
  const worker = new Worker(new URL('./worker.ts', import.meta.url), { type: 'module' })
  worker.onmessage = (event: MessageEvent<PowerAnswer>) => onAnswer(event.data)
  worker.onerror = (event) =>
    onBroken(`The worker of heat and power stopped: ${event.message || 'it could not start'}.`)
  return { post: (order) => worker.postMessage(order), close: () => worker.terminate() }
}
