// The count of coverage alone: `npm run bench -- coverage` without the other benches. Its bundle is one file that needs Node and nothing else:
// node scripts/run-ts.mjs tests/bench/coverageMain.ts [as in coverage.ts]; afterwards it lies in node_modules/.cache/lampwright.
import { coverage } from './coverage.ts'

await coverage(process.argv.slice(2))
