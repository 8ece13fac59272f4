// One worker of a search: it evaluates lamps, one after another.
import { type CallReply, type CallRequest, makeClient, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerPort, WorkerSide } from '../../engine/workers/port.ts'
import { makeRestarting, type Trouble } from '../service/restarting.ts'
import { evaluateLamp } from './evaluate.ts'
import type { CandidateRequest, Evaluator, Outcome } from './evaluating.ts'
import { lampFor } from './moves.ts'

export type EvaluateCalls = { evaluate: { args: CandidateRequest; event: never; result: Outcome } }

export const serveEvaluations = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<EvaluateCalls>(side, { evaluate: evaluateCandidate })

/** In this very thread. */
async function evaluateCandidate({ lamp, moves, values, accepted, ...options }: CandidateRequest): Promise<Outcome> {
  const made = lampFor(lamp, moves, values, accepted)
  return made.ok ? { ok: true, evaluation: await evaluateLamp(made.lamp, options) } : made
}

export const inlineEvaluator = (): Evaluator => ({ evaluate: evaluateCandidate, again() {}, close() {} })

/** A lamp is evaluated in one go, without answering anything meanwhile: only after so long it counts as hung. */
const SILENT_AFTER_MS = 600_000

/** A thread of the command line: when it ends, so does the search. */
export function threadEvaluator(port: WorkerPort<CallRequest, CallReply>, name: string): Evaluator {
  const client = makeClient<EvaluateCalls>(port, name, SILENT_AFTER_MS)
  return { evaluate: (request) => client.call('evaluate', request), again() {}, close: client.close }
}

/** A worker of the page: when it ends, it is started again and its lamp is evaluated anew. */
export function restartingEvaluator(
  open: () => WorkerPort<CallRequest, CallReply>,
  name: string,
  onTrouble: (trouble: Trouble) => void,
): Evaluator {
  const client = makeRestarting<EvaluateCalls>(open, {
    name,
    work: 'evaluate',
    silentAfterMs: SILENT_AFTER_MS,
    onTrouble,
  })
  return { evaluate: (request) => client.call('evaluate', request), again: client.again, close: client.close }
}
