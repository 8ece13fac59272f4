// First sheets read by workers of their own, so that the next edit is traced while the sheet of the one before it is read. The sheet has the
// same bits wherever it is read.
import { type FirstRound, partialsTransferList, recycleRun, runOf } from '../../engine/partialTallies.ts'
import type { CallReply, CallRequest, Client } from '../../engine/workers/calls.ts'
import { serveCalls } from '../../engine/workers/calls.ts'
import type { WorkerSide } from '../../engine/workers/port.ts'
import type { Front } from '../../hazard/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { runToEnd } from '../../num/scheduler.ts'
import { giveBackSums } from '../../run/batches.ts'
import { giveBackExits } from '../../run/exits.ts'
import { expectValid } from '../../run/validate.ts'
import { makeReader, type ReadState, type SheetHeader } from './read.ts'
import type { Paths, Sheet } from './sheet.ts'

/** What a first sheet is read from. The round's buffers are transferred, and come back with the sheet. */
export interface FirstSheetRequest {
  lamp: Lamp
  first: FirstRound
  header: SheetHeader
  state: ReadState
  paths: Paths
}
interface FirstSheetResult {
  sheet: Sheet
  /** For the readings that follow. */
  front: Front | null
  partials: FirstRound['partials']
}
export type FirstSheetCalls = { read: { args: FirstSheetRequest; event: never; result: FirstSheetResult } }
export type FirstSheetClient = Pick<Client<FirstSheetCalls>, 'call' | 'alive' | 'onChange' | 'close'>

export interface FirstSheetReaders {
  /** How many there are. */
  threads: number
  /** Resolves when one of them is free to read; false: none of them has started so far, or all have died. */
  free(): Promise<boolean>
  /** Just after `free` only. Rejects when the run is invalid, and when the worker dies. */
  read(request: FirstSheetRequest): Promise<FirstSheetResult>
  close(): void
}

export function makeFirstSheetReaders(clients: readonly FirstSheetClient[]): FirstSheetReaders {
  /** Not reading; the one that has rested longest comes first, so that all of them stay warm during a drag. */
  const resting = [...clients]
  let waiting: (() => void)[] = []
  const wake = () => {
    for (const check of waiting.splice(0)) check()
    waiting = []
  }
  const idle = () => resting.find((client) => client.alive())
  const isReading = () => clients.some((client) => client.alive() && !resting.includes(client))
  for (const client of clients) client.onChange(wake)
  return {
    threads: clients.length,
    async free() {
      while (!idle() && isReading()) await new Promise<void>((check) => waiting.push(check))
      return idle() !== undefined
    },
    async read(request) {
      const client = idle()
      if (!client) throw new Error('job: no reader of first sheets is free')
      resting.splice(resting.indexOf(client), 1)
      try {
        return await client.call('read', request, { transfer: partialsTransferList(request.first.partials) })
      } finally {
        resting.push(client)
        wake()
      }
    },
    close() {
      for (const client of clients) client.close()
    },
  }
}

/** Throws when the run is invalid. */
function readFirstSheet({ lamp, first, header, state, paths }: FirstSheetRequest): FirstSheetResult {
  const run = runOf(first)
  expectValid(run, false)
  const reader = makeReader(lamp, header, () => paths)
  const sheet = runToEnd(reader.read(run, state))
  recycleRun(run, first.partials)
  giveBackSums(run)
  giveBackExits(run)
  return { sheet, front: reader.front(), partials: first.partials }
}

/** The worker's side. */
export const serveFirstSheets = (side: WorkerSide<CallRequest, CallReply>): void =>
  serveCalls<FirstSheetCalls>(side, {
    read(request, { transfer }) {
      const result = readFirstSheet(request)
      transfer(partialsTransferList(result.partials))
      return result
    },
  })
