// The command line's one contact with the process: arguments, streams, the parent's channel, exit status. SIGINT is answered by
// scripts/lampwright.mjs, which is there sooner.
import { dangerInNode } from '../job/danger/node.ts'
import { traceInNode } from '../job/service/node.ts'
import { sweepInNode } from '../job/sweep/node.ts'
import { dispatch } from './dispatch.ts'
import type { Io } from './io.ts'

// `lampwright trace demo | head -3` closes the pipe early: that is not an error.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error
  })
}

const io: Io = {
  out: (text) => process.stdout.write(text),
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
// Don't call process.exit(): a slow reader of the pipe must still get every byte.
process.exitCode = status
process.stdout.write('', () => process.exit(status))
