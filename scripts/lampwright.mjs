// The command line: bundles src/cli/main.ts, unless nothing has changed since, and runs it with the arguments given.

// First of all, so that Ctrl+C ends it the same way at any moment: a clear line (a bar may stand there), status 128 + SIGINT.
process.on('SIGINT', () => {
  if (process.stderr.isTTY) process.stderr.write('\r\x1b[K')
  process.exit(130)
})

const { bundle } = await import('./bundle.mjs')
const { runScript } = await import('./runScript.mjs')
const out = await bundle('src/cli/main.ts', undefined, 'script')
const args = process.argv.slice(2)
process.argv = [process.argv[0], out, ...args]
runScript(out, args[0] ?? '')
