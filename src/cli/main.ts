// The command line's one contact with the process: arguments, streams, the parent's channel, exit status. SIGINT is answered by
// scripts/lampwright.mjs, which is there sooner.
import { dangerInNode } from '../job/danger/node.ts'
import { traceInNode } from '../job/service/node.ts'
import { sweepInNode } from '../job/sweep/node.ts'
import { dispatch } from './dispatch.ts'
import { EXIT, type Io } from './io.ts'

/** Why not all that was printed has arrived. A pipe that closes early (`… | head -3`) is no news, but no success either. */
let outFault: NodeJS.ErrnoException | null = null
const failOut = (error: NodeJS.ErrnoException) => {
  outFault ??= error
}
process.stdout.on('error', failOut)
// A stderr that nobody reads: an error there can be reported nowhere.
process.stderr.on('error', () => {})

const io: Io = {
  out: (text) => {
    try {
      process.stdout.write(text)
    } catch (error) {
      failOut(error as NodeJS.ErrnoException) // a file is written at once, and throws
    }
  },
  err: (text) => process.stderr.write(text),
  errColumns: process.stderr.isTTY ? process.stderr.columns || 80 : null,
  // Started by another Node program with an IPC channel: it hears how far the work is. One that has gone is no fault.
  tell: (at) => void (process.connected && process.send?.(at, undefined, undefined, () => {})),
}

const status = await dispatch(process.argv.slice(2), {
  io,
  trace: traceInNode,
  sweep: sweepInNode,
  danger: dangerInNode,
})
// Called once all is written: a slow reader of the pipe must still get every byte.
const end = () => {
  const fault = outFault
  if (fault && fault.code !== 'EPIPE')
    process.stderr.write(
      `Not all could be written to stdout: ${fault.code === 'ENOSPC' ? 'the disk is full' : fault.message}.\n`,
    )
  process.exit(fault ? EXIT.refused : status)
}
process.exitCode = status
// The stream reports its error only after the callback.
process.stdout.write('', () => setImmediate(end))
