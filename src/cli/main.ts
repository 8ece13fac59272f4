// Connects the command line to the process: arguments, streams, signals, exit status.
import { dangerInNode } from '../job/danger/node.ts'
import { traceInNode } from '../job/service/node.ts'
import { sweepInNode } from '../job/sweep/node.ts'
import { dispatch } from './dispatch.ts'
import { EXIT, type Io } from './io.ts'

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
}

process.on('SIGINT', () => {
  if (io.errColumns !== null) io.err('\r\x1b[K')
  process.exit(EXIT.interrupted)
})

const status = await dispatch(process.argv.slice(2), {
  io,
  trace: traceInNode,
  sweep: sweepInNode,
  danger: dangerInNode,
})
// Don't call process.exit(): a slow reader of the pipe must still get every byte.
process.exitCode = status
process.stdout.write('', () => process.exit(status))
