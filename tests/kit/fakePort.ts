// Ports of workers whose other side is the test: it replies, kills, or keeps silent.
import type { CallReply, CallRequest } from '../../src/engine/workers/calls.ts'
import type { WorkerPort } from '../../src/engine/workers/port.ts'

export interface FakePort {
  requests: CallRequest[]
  /** The calls among the requests. */
  calls(): Extract<CallRequest, { kind: 'call' }>[]
  reply(reply: CallReply): void
  die(why: string): void
  closed(): boolean
}

/** `fails`: how many of the first starts throw. */
export function fakePorts({ fails = 0 } = {}) {
  const ports: FakePort[] = []
  let starts = 0
  function open(): WorkerPort<CallRequest, CallReply> {
    if (starts++ < fails) throw new Error('no memory')
    const requests: CallRequest[] = []
    let takeReply: (reply: CallReply) => void = () => {}
    let takeDeath: (why: string) => void = () => {}
    let closed = false
    ports.push({
      requests,
      calls: () => requests.filter((r) => r.kind === 'call'),
      reply: (reply) => takeReply(reply),
      die: (why) => takeDeath(why),
      closed: () => closed,
    })
    return {
      post: (request) => void requests.push(request),
      onReply(take) {
        takeReply = take
      },
      onDeath(take) {
        takeDeath = take
      },
      close() {
        closed = true
      },
    }
  }
  return { open, ports, starts: () => starts }
}
