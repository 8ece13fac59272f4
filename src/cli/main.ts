// The command line's one contact with the process: arguments, streams, the parent's channel, exit status. SIGINT is answered by
// scripts/lampwright.mjs, which is there sooner.
import { dispatch } from './dispatch.ts'
import { EXIT, type Io, type Tools } from './io.ts'

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

/** Loaded by the commands that call them. */
const tools: Tools = {
  io,
  trace: async (...args) => (await import('../job/service/node.ts')).traceInNode(...args),
  sweep: async (...args) => (await import('../job/sweep/node.ts')).sweepInNode(...args),
  optimize: async (...args) => (await import('../job/choose/node.ts')).optimizeInNode(...args),
  searchStarts: async (...args) => (await import('../job/choose/node.ts')).startsInNode(...args),
  build: async (...args) => (await import('../job/tolerances/node.ts')).tolerancesInNode(...args),
  compare: async (...args) => (await import('../job/compare/node.ts')).compareInNode(...args),
  wish: async (...args) => (await import('../job/wish/node.ts')).wishInNode(...args),
  exits: async (...args) => (await import('../job/rays/node.ts')).exitsInNode(...args),
  danger: async (...args) => (await import('../job/danger/node.ts')).dangerInNode(...args),
  fitReadings: async (...args) => (await import('../job/fit/node.ts')).fitInNode(...args),
  predict: async (order) => (await import('../job/fit/predict.ts')).predictLux(order),
}

// No `await` here: the bundle of the command line is a script (scripts/lampwright.mjs).
void dispatch(process.argv.slice(2), tools).then((status) => {
  process.exitCode = status
  // The stream reports its error only after the callback, which is called once all is written: a slow reader of the pipe must still get every byte.
  process.stdout.write('', () => setImmediate(end, status))
})

function end(status: number) {
  const fault = outFault
  if (fault && fault.code !== 'EPIPE')
    process.stderr.write(
      `Not all could be written to stdout: ${fault.code === 'ENOSPC' ? 'the disk is full' : fault.message}.\n`,
    )
  process.exit(fault ? EXIT.refused : status)
}
