// npm run test:mutation -- FOLDER: small faults are put into src/FOLDER one at a time, and a test must fail for each. Prints the score and the
// survivors; tests/README.md keeps the table. Further arguments go to Stryker (--concurrency 8, --mutate 'src/run/exits.ts').
import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const cache = join(root, 'node_modules/.cache/mutation')
const [folder, ...rest] = process.argv.slice(2)

/** Tests beside a folder's own that judge it: those that hold it to published values, without the slow whole ways. */
const JUDGES = {
  heat: ['tests/published/{convection,spreading}.test.ts'],
  power: ['tests/published/wires.test.ts'],
  hazard: ['tests/published/{ignition,sun-place,sun-image,eye-weights,black-plate}.test.ts'],
}

/** Where some of a folder's own tests take seconds, the quick ones judge alone: each known by hand, a few milliseconds. */
const QUICK = {
  beam: [
    'tests/beam/{bins,blocks,crossing,figures,inverseSquare,ledger,maps,pattern,peak,planes,targetFar,targetRays,windowMap}.test.ts',
  ],
  run: ['tests/run/{batches,exits,faults,layout,wall}.test.ts'],
  optics: ['tests/optics/exact/*.test.ts'],
}

if (!folder || !existsSync(join(root, 'src', folder))) {
  const folders = readdirSync(join(root, 'src')).join(', ')
  console.error(`npm run test:mutation -- FOLDER, where FOLDER is one of ${folders}`)
  process.exit(2)
}

mkdirSync(cache, { recursive: true })
const include = QUICK[folder] ?? [`tests/${folder}/**/*.test.{ts,tsx}`, ...(JUDGES[folder] ?? [])]
const vitestConfig = join(cache, `${folder}.vitest.mjs`)
writeFileSync(
  vitestConfig,
  `export default { test: { include: ${JSON.stringify(include)}, environment: 'node', testTimeout: 60_000 } }\n`,
)
const report = join(cache, `${folder}.json`)
const strykerConfig = join(cache, `${folder}.stryker.json`)
const config = {
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner'],
  vitest: { configFile: vitestConfig, related: false },
  mutate: [`src/${folder}/**/*.ts`],
  ignorePatterns: ['dist', 'public', 'shots', 'coverage'],
  // Words of messages are tested where they matter; a changed letter in the others is no fault of the physics.
  mutator: { excludedMutations: ['StringLiteral'] },
  reporters: ['json'],
  jsonReporter: { fileName: report },
  tempDirName: join(cache, 'work'),
  tsconfigFile: 'none.json', // its reader needs an interface that TypeScript 7 has not
  timeoutMS: 20_000,
}
writeFileSync(strykerConfig, JSON.stringify(config, null, 2))

const bin = join(root, 'node_modules/@stryker-mutator/core/bin/stryker.js')
const child = spawn(process.execPath, [bin, 'run', strykerConfig, ...rest], { cwd: root, stdio: 'inherit' })
child.on('exit', (code) => {
  if (code === 0) print(JSON.parse(readFileSync(report, 'utf8')))
  process.exit(code ?? 1)
})

/** `mutation report schema`: files by path, each with its source and mutants. */
function print({ files }) {
  const caught = (m) => m.status === 'Killed' || m.status === 'Timeout'
  const alive = (m) => m.status === 'Survived' || m.status === 'NoCoverage'
  const rows = []
  for (const [path, { source, mutants }] of Object.entries(files).sort()) {
    const lines = source.split('\n')
    const survivors = mutants.filter(alive).sort((a, b) => a.location.start.line - b.location.start.line)
    const count = mutants.filter(caught).length
    rows.push([path, count, count + survivors.length])
    for (const { location, mutatorName, replacement, status } of survivors) {
      const line = lines[location.start.line - 1].trim().slice(0, 100)
      console.log(
        `${path}:${location.start.line} ${status} ${mutatorName} → ${String(replacement).replace(/\s+/g, ' ').slice(0, 60)}   | ${line}`,
      )
    }
  }
  const score = (count, all) => `${((100 * count) / Math.max(1, all)).toFixed(1).padStart(6)} %  ${count} of ${all}`
  for (const [path, count, all] of rows) console.log(`${score(count, all)}  ${path}`)
  const sum = (k) => rows.reduce((total, row) => total + row[k], 0)
  console.log(`${score(sum(1), sum(2))}  src/${folder}`)
}
