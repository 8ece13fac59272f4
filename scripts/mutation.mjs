// npm run test:mutation -- FOLDER: small faults are put into src/FOLDER one at a time, and a test must fail for each. Prints the score and the
// survivors; tests/README.md keeps the table. `--share 0.2` tries a fifth of the faults, drawn by mutationShare.mjs, and prints the standard error
// that this gives the score; with `--from 0.2` that fifth is another one than the first. Further arguments go to Stryker (--concurrency 8, --mutate 'src/run/exits.ts').
import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = dirname(dirname(fileURLToPath(import.meta.url)))
const cache = join(root, 'node_modules/.cache/mutation')
const [folder, ...args] = process.argv.slice(2)
const [share, withoutShare] = takeNumber('--share', 1, args)
const [from, rest] = takeNumber('--from', 0, withoutShare)

/** Tests beside a folder's own that judge it: those that hold it to published values, without the slow whole ways. */
const JUDGES = {
  library: [
    'tests/published/{chromatic,dispersion,eye-weights,ignition,photometry-spectra}.test.ts',
    'tests/checks/danger.test.ts',
  ],
  report: ['tests/cli/{danger,heat,sweep}.test.ts', 'tests/job/sweep/best.test.ts'],
  electrothermal: ['tests/app/power/followPower.test.ts'],
  scene: ['tests/optics/exact/{density,emission}.test.ts', 'tests/optics/profiles.test.ts'],
  num: ['tests/hazard/discs.test.ts'],
  heat: ['tests/published/{convection,spreading}.test.ts'],
  power: ['tests/published/wires.test.ts'],
  hazard: ['tests/published/{ignition,sun-place,sun-image,eye-weights,black-plate}.test.ts'],
}

/** Where some of a folder's own tests take seconds, the quick ones judge alone. */
const QUICK = {
  electrothermal: ['tests/electrothermal/*ByHand.test.ts'],
  layout: ['tests/layout/{arrange,boardDesigner,clearance,outline,shape}.test.ts'],
  beam: [
    'tests/beam/{bins,blocks,crossing,figures,inverseSquare,ledger,maps,pattern,peak,planes,targetFar,targetRays,windowMap}.test.ts',
  ],
  run: ['tests/run/{batches,exits,faults,layout,wall}.test.ts'],
  optics: ['tests/optics/exact/*.test.ts'],
  engine: ['tests/engine/{choice,gpu/{backwardTracer,forwardTracer},workers/*,forward/walk}.test.ts'],
  hazard: [
    'tests/hazard/{balance,contours,discs,flicker,fociByHand,frontCurve,frontSearch,frontWhole,inTheWay,lensMass}.test.ts',
    'tests/hazard/{partsByHand,planes,risks,solar,sourceRadiance,spots,sunDay,sunSpots,sunTurns}.test.ts',
    'tests/hazard/{visualInterference,volumeGrid}.test.ts',
    'tests/hazard/{eyeCells,eyeFields,eyeLimits,eyePupil,eyeRays,eyeRisk,eyeSteps,eyeUltraviolet}.test.ts',
    'tests/hazard/air/{balls,besidePencils,climb,densePoints,facing,near,planeFinder,search,zones}.test.ts',
    ...JUDGES.hazard,
  ],
  job: ['tests/job/{beam/colour,beam/pause,danger/rejudge,sweep/{best,parameters,plan},power/client}.test.ts'],
  cli: ['tests/cli/{bundle,commands,danger,format,heat,sweep,trace}.test.ts'],
  app: ['tests/app/**/*.test.ts'],
}

/** Of the page only what needs no browser. */
const MUTATED = { app: ['src/app/*/model/**/*.ts', 'src/app/common/**/*.ts'] }

if (!folder || !existsSync(join(root, 'src', folder))) {
  const folders = readdirSync(join(root, 'src')).join(', ')
  console.error(`npm run test:mutation -- FOLDER, where FOLDER is one of ${folders}`)
  process.exit(2)
}
if (!(share > 0 && from >= 0 && from + share <= 1)) {
  console.error('--share takes a number above 0, --from one from 0 on, and together they are 1 at most')
  process.exit(2)
}

mkdirSync(cache, { recursive: true })
const include = QUICK[folder] ?? [`tests/${folder}/**/*.test.{ts,tsx}`, ...(JUDGES[folder] ?? [])]
const vitestConfig = join(cache, `${folder}.vitest.mjs`)
writeFileSync(
  vitestConfig,
  `export default { test: { include: ${JSON.stringify(include)}, environment: 'node', testTimeout: 600_000 } }\n`,
)
const report = join(cache, `${folder}.json`)
const strykerConfig = join(cache, `${folder}.stryker.json`)
const config = {
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner', join(root, 'scripts/mutationShare.mjs')],
  checkers: share < 1 ? ['share'] : [],
  vitest: { configFile: vitestConfig, related: false },
  mutate: MUTATED[folder] ?? [`src/${folder}/**/*.ts`],
  ignorePatterns: ['dist', 'public', 'shots', 'coverage'],
  // Words of messages are tested where they matter; a changed letter in the others is no fault of the physics.
  mutator: { excludedMutations: ['StringLiteral'] },
  reporters: ['json'],
  jsonReporter: { fileName: report },
  tempDirName: join(cache, 'work'),
  tsconfigFile: 'none.json', // its reader needs an interface that TypeScript 7 has not
  timeoutMS: 20_000,
  // Mutants of a loop over rays slow it down twentyfold.
  dryRunTimeoutMinutes: 30,
}
writeFileSync(strykerConfig, JSON.stringify(config, null, 2))

const bin = join(root, 'node_modules/@stryker-mutator/core/bin/stryker.js')
const env = { ...process.env, MUTATION_SHARE: String(share), MUTATION_FROM: String(from) }
const child = spawn(process.execPath, [bin, 'run', strykerConfig, ...rest], { cwd: root, stdio: 'inherit', env })
child.on('exit', (code) => {
  if (code === 0) print(JSON.parse(readFileSync(report, 'utf8')))
  process.exit(code ?? 1)
})

/** The number after a flag, and what is left of the arguments. */
function takeNumber(flag, otherwise, list) {
  const at = list.indexOf(flag)
  return at < 0 ? [otherwise, list] : [Number(list[at + 1]), list.toSpliced(at, 2)]
}

/** `mutation report schema`: files by path, each with its source and mutants. */
function print({ files }) {
  const caught = (m) => m.status === 'Killed' || m.status === 'Timeout'
  const alive = (m) => m.status === 'Survived' || m.status === 'NoCoverage'
  const all = Object.values(files).flatMap(({ mutants }) => mutants.filter(({ status }) => status !== 'Ignored'))
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
  const score = (count, of) => `${((100 * count) / Math.max(1, of)).toFixed(1).padStart(6)} %  ${count} of ${of}`
  for (const [path, count, of] of rows) console.log(`${score(count, of)}  ${path}`)
  const sum = (k) => rows.reduce((total, row) => total + row[k], 0)
  console.log(`${score(sum(1), sum(2))}${sampled(sum(1), sum(2), all.length)}  src/${folder}`)
  const tried = all.filter((m) => caught(m) || alive(m))
  const number = (is) => tried.filter(is).length
  const later = tried.filter((m) => !m.static)
  console.log(
    [
      `of these, ${number((m) => m.status === 'Timeout')} caught by the time limit`,
      `${number((m) => m.status === 'NoCoverage')} in code that no judge runs`,
      `${number((m) => m.static)} in code that runs while test files are loaded (without them${score(later.filter(caught).length, later.length)})`,
    ].join(', '),
  )
}

/** Mutants are drawn one by one, so the caught among them are binomial, or nearer to the score where few are left undrawn. */
function sampled(caught, drawn, all) {
  if (share === 1 || drawn === 0) return ''
  const se = 100 * Math.sqrt(((caught / drawn) * (1 - caught / drawn) * (1 - drawn / all)) / drawn)
  return `, standard error ${se.toFixed(1)} %, drawn from ${all}`
}
