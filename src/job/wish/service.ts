// One worker of a search from a wish: it makes proposals, one after another.
import { type CallReply, type CallRequest, makeClient, serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerPort, WorkerSide } from '../../engine/workers/port.ts'
import { makeRestarting, type Trouble } from '../service/restarting.ts'
import type { KindId } from './kinds.ts'
import { type ProposeOptions, proposeKind } from './propose.ts'
import type { KindOutcome } from './result.ts'
import type { Proposer } from './run.ts'
import type { Wish } from './wish.ts'

type ProposeCalls = {
  propose: { args: { wish: Wish; kind: KindId; options: ProposeOptions }; event: never; result: KindOutcome }
}

export const serveProposals = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<ProposeCalls>(side, { propose: ({ wish, kind, options }) => proposeKind(wish, kind, options) })

export const inlineProposer = (): Proposer => ({ propose: proposeKind, again() {}, close() {} })

/** A kind is worked out in one go, without answering anything meanwhile: only after so long it counts as hung. */
const SILENT_AFTER_MS = 600_000

/** A thread of the command line: when it ends, so does the search. */
export function threadProposer(port: WorkerPort<CallRequest, CallReply>, name: string): Proposer {
  const client = makeClient<ProposeCalls>(port, name, SILENT_AFTER_MS)
  return {
    propose: (wish, kind, options) => client.call('propose', { wish, kind, options }),
    again() {},
    close: client.close,
  }
}

/** A worker of the page: when it ends, it is started again and its kind is worked out anew. */
export function restartingProposer(
  open: () => WorkerPort<CallRequest, CallReply>,
  name: string,
  onTrouble: (trouble: Trouble) => void,
): Proposer {
  const client = makeRestarting<ProposeCalls>(open, {
    name,
    work: 'propose',
    silentAfterMs: SILENT_AFTER_MS,
    onTrouble,
  })
  return {
    propose: (wish, kind, options) => client.call('propose', { wish, kind, options }),
    again: client.again,
    close: client.close,
  }
}
