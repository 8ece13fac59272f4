// lampwright photometry: the traced light as a photometric file (IES LM-63) or a ray file (IES TM-25).
import { availableParallelism } from 'node:os'
import { type Lm63Edition, lm63Text } from '../files/lm63Write.ts'
import { inputPower } from '../job/power/inputPower.ts'
import { lightTraced } from '../job/power/light.ts'
import { writeRayFile } from '../job/rays/file.ts'
import type { Lamp } from '../lamp/schema.ts'
import { localDate } from '../num/localDate.ts'
import { lightWords } from '../report/light.ts'
import { photometryInputWords, rayFileTexts } from '../report/photometry.ts'
import { short, whole, wrapped } from './format.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { onlyPositional, type Parsed, wholeNumber } from './options.ts'
import { progressOn } from './progress.ts'
import { traceWithProgress } from './trace.ts'
import { VERSION } from './version.ts'
import { expectWritable, writeChunks, writeFile } from './writeFile.ts'

export const PHOTOMETRY_OPTIONS = {
  format: { type: 'string', value: 'lm63|tm25' },
  edition: { type: 'string', value: '2002|2019' },
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  out: { type: 'string', value: 'PATH' },
  force: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

const WIDTH = 96
const RAYS = { lm63: 2_000_000, tm25: 1_000_000 } as const

export async function photometryCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'photometry'))
  const format = formatOf(parsed)
  const options = {
    rays: wholeNumber(parsed, 'rays', { from: 16, to: 1e9, otherwise: RAYS[format] }),
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    threads: wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() }),
  }
  const out = parsed.values.get('out')
  const over = parsed.flags.has('force')
  // Report a file that can't be written before the work, not after it.
  if (out !== undefined) expectWritable(out, over)
  if (format === 'lm63') await writeLm63(lamp, options, { edition: editionOf(parsed), out, over }, tools)
  else {
    if (parsed.values.has('edition')) throw new UserError('--edition is for --format lm63.')
    if (out === undefined) throw new UserError('A ray file goes into a file: --out PATH.')
    await writeTm25(lamp, options, { out, over }, tools)
  }
  return EXIT.fine
}

interface TraceOptions {
  rays: number
  seed: number
  threads: number
}

async function writeLm63(
  lamp: Lamp,
  { rays, seed, threads }: TraceOptions,
  { edition, out, over }: { edition: Lm63Edition; out: string | undefined; over: boolean },
  tools: Tools,
): Promise<void> {
  const sheet = await traceWithProgress(lamp, { maxRays: rays, seed, threads, variants: false }, tools)
  const power = inputPower(lamp)
  const written = lm63Text(sheet, lamp, {
    edition,
    date: localDate(),
    version: VERSION,
    input: power && { watts: power.watts, of: photometryInputWords(power.of) },
    light: `${lightWords(sheet.light)}.`,
  })
  if (!written.ok) throw new UserError(written.why)
  if (out === undefined) {
    tools.io.out(written.text)
    return
  }
  writeFile(out, written.text, over)
  const planes = written.horizontal === 1 ? 'one plane, round' : `${written.horizontal} planes`
  const lines = [
    `Wrote ${stripControls(out)}: LM-63-${edition}, ${written.vertical} vertical angles, ${planes}, ${short(written.lumens)} lm by its own zonal sum.`,
    ...written.notes,
    'It is a computed prediction: nothing was measured.',
  ]
  tools.io.out(`${lines.map((line) => wrapped(line, WIDTH, '  ')).join('\n')}\n`)
}

async function writeTm25(
  lamp: Lamp,
  options: TraceOptions,
  { out, over }: { out: string; over: boolean },
  { io, exits }: Tools,
): Promise<void> {
  const progress = progressOn(io, (done, all) => `${whole(done)} of ${whole(all)} rays`)
  try {
    const { sums, started } = await exits(lamp, options, async (trace) => {
      const words = {
        date: `${new Date().toISOString().slice(0, 19)}Z`,
        texts: rayFileTexts(lamp.name, lightWords(lightTraced(lamp)), VERSION),
      }
      const sums = await writeRayFile(
        trace,
        words,
        (chunks) => writeChunks(out, chunks, over),
        (share) => progress.show({ rays: Math.round(share * trace.rays), maxRays: trace.rays }),
      )
      return { sums, started: trace.rays }
    })
    progress.end()
    const line = `Wrote ${stripControls(out)}: TM-25 (2013), ${whole(sums.rays)} rays of ${whole(started)} that were started, ${short(sums.luminousLm)} lm, ${short(sums.radiantW)} W. It is a computed prediction: nothing was measured.`
    io.out(`${wrapped(line, WIDTH, '  ')}\n`)
  } finally {
    progress.end()
  }
}

function formatOf(parsed: Parsed): 'lm63' | 'tm25' {
  const text = parsed.values.get('format')
  if (text === 'lm63' || text === 'tm25') return text
  if (text === undefined) throw new UserError('photometry needs a format: --format lm63 or --format tm25.')
  throw new UserError(`--format: ${JSON.stringify(text)} does not fit; expected lm63 or tm25.`)
}

function editionOf(parsed: Parsed): Lm63Edition {
  const text = parsed.values.get('edition') ?? '2019'
  if (text === '2019') return 2019
  if (text === '2002') return 2002
  throw new UserError(`--edition: ${JSON.stringify(text)} does not fit; expected 2002 or 2019.`)
}
