// node scripts/run-ts.mjs FILE.ts [args]: bundle one TypeScript file and run it.
import { pathToFileURL } from 'node:url'
import { bundle } from './bundle.mjs'

const [entry, ...rest] = process.argv.slice(2)
const out = await bundle(entry)
process.argv = [process.argv[0], out, ...rest]
await import(pathToFileURL(out).href)
