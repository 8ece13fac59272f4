// The command line: bundles src/cli/main.ts (a fraction of a second) and runs it with the arguments given.
import { pathToFileURL } from 'node:url'
import { bundle } from './bundle.mjs'

const out = await bundle('src/cli/main.ts')
process.argv = [process.argv[0], out, ...process.argv.slice(2)]
await import(pathToFileURL(out).href)
