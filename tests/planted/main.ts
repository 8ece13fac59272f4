// node scripts/run-ts.mjs tests/planted/main.ts COMMAND [options]
//   truths   work the true irradiances out and put them into tests/planted/truths.csv
//   say      compare what the program says with them and print the table by class
// Options: --seeds 1-84 (of each class), --classes a,b, --jobs 16 (processes at once), --share k/n (this process's part: rows on stdout),
// --least 10 (print so many of the most understated).
import { spawn } from 'node:child_process'
import { existsSync, writeFileSync } from 'node:fs'
import { type Compared, compare, tableOf, truthOf } from './compare.ts'
import { CLASSES, type PlantedClass } from './lamps.ts'
import { say } from './say.ts'
import { readTruths, rowOf, type StoredTruth, TRUTHS_FILE, textOfTruths } from './truths.ts'

interface Task {
  name: PlantedClass
  seed: number
}

const args = process.argv.slice(2)
const command = args[0]
const option = (name: string, otherwise: string) => {
  const at = args.indexOf(`--${name}`)
  return at < 0 ? otherwise : (args[at + 1] ?? otherwise)
}

const [first = 1, last = first] = option('seeds', '1-84').split('-').map(Number)
const wanted = option('classes', CLASSES.join(',')).split(',')
const tasks: Task[] = Array.from({ length: last - first + 1 }, (_, i) => first + i).flatMap((seed) =>
  CLASSES.filter((name) => wanted.includes(name)).map((name) => ({ name, seed })),
)

/** Every n-th task from the k-th on; one line of JSON each. */
async function workShare(k: number, n: number): Promise<void> {
  const stored = command === 'say' ? readTruths() : []
  for (const { name, seed } of tasks.filter((_, i) => i % n === k)) {
    if (command === 'truths') {
      const truth = truthOf(name, seed)
      console.log(JSON.stringify(truth ? { name, seed, truth } : { name, seed, dark: true }))
      continue
    }
    const truth = stored.find((t) => t.name === name && t.seed === seed)?.truth
    if (truth) console.log(JSON.stringify(await compare(say, name, seed, truth)))
  }
}

function runShare(k: number, n: number): Promise<string> {
  return new Promise((resolve, reject) => {
    const own = process.argv[1]
    if (!own) throw new Error('planted: no script to start')
    const child = spawn(process.execPath, [own, ...args, '--share', `${k}/${n}`], {
      stdio: ['ignore', 'pipe', 'inherit'],
    })
    let text = ''
    child.stdout.on('data', (chunk) => {
      text += chunk
    })
    child.on('close', (code) => (code === 0 ? resolve(text) : reject(new Error(`planted: share ${k}/${n} failed`))))
  })
}

async function workAll(jobs: number): Promise<void> {
  const texts = await Promise.all(Array.from({ length: jobs }, (_, k) => runShare(k, jobs)))
  const rows = texts.join('').trim().split('\n').filter(Boolean)
  if (command === 'truths') writeTruths(rows.map((row) => JSON.parse(row) as StoredTruth | (Task & { dark: true })))
  else printTable(rows.map((row) => JSON.parse(row) as Compared))
}

function writeTruths(rows: readonly (StoredTruth | (Task & { dark: true }))[]): void {
  const found = rows.filter((r): r is StoredTruth => 'truth' in r)
  for (const r of rows) if ('dark' in r) console.log(`no light: ${r.name} ${r.seed}`)
  const fresh = new Set(rows.map((r) => `${r.name} ${r.seed}`))
  const others = existsSync(TRUTHS_FILE) ? readTruths().filter((t) => !fresh.has(`${t.name} ${t.seed}`)) : []
  writeFileSync(TRUTHS_FILE, textOfTruths([...others, ...found]))
  const worst = Math.max(...found.map((r) => r.truth.se / r.truth.kWm2))
  console.log(
    `${found.length} truths, standard errors to ${(100 * worst).toFixed(2)} %; the last: ${rowOf(found.at(-1)!)}`,
  )
}

function printTable(rows: readonly Compared[]): void {
  const round = (x: number) => Math.round(x * 1000) / 1000
  console.table(tableOf(rows).map((r) => ({ ...r, least: round(r.least), median: round(r.median) })))
  const least = [...rows].sort((a, b) => a.ratio - b.ratio).slice(0, Number(option('least', '0')))
  for (const r of least)
    console.log(
      `${r.name} ${r.seed}: true ${r.trueKWm2.toFixed(2)}, said ${r.upperKWm2.toFixed(2)}, ratio ${round(r.ratio)}`,
    )
}

const [k, n] = option('share', '').split('/').map(Number)
if (command !== 'truths' && command !== 'say') throw new Error('planted: truths or say')
if (n) await workShare(k!, n)
else await workAll(Number(option('jobs', '1')))
