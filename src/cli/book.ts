// lampwright book: the whole lamp in one document, as PDF or HTML.
import { existsSync, readFileSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { retainedByPilot, retainedFromLedger } from '../job/beam/retainedLight.ts'
import type { Sheet } from '../job/beam/sheet.ts'
import type { DangerReading } from '../job/danger/result.ts'
import { powerFindings, runPower } from '../job/power/run.ts'
import { designHash } from '../lamp/designHash.ts'
import type { Lamp } from '../lamp/schema.ts'
import { localDate } from '../num/localDate.ts'
import { bookOf, severeTitles } from '../report/book/book.ts'
import { bookHtml } from '../report/book/html.ts'
import { type Book, CHAPTER_IDS, CHAPTER_TITLES, type ChapterId } from '../report/book/model.ts'
import { bookPdf } from '../report/book/pdf/write.ts'
import type { BookResults } from '../report/book/results.ts'
import { LampFault } from '../run/validate.ts'
import { dangerWithProgress } from './danger.ts'
import { columns } from './format.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { plainName } from './names.ts'
import { didYouMean } from './nearest.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf, wholeNumber } from './options.ts'
import { severeLine } from './severeLine.ts'
import { traceWithProgress } from './trace.ts'
import { VERSION } from './version.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const BOOK_OPTIONS = {
  out: { type: 'string', value: 'FILE.pdf' },
  without: { type: 'string', value: 'CHAPTER,…' },
  chapters: { type: 'boolean' },
  rays: { type: 'string', value: 'N' },
  seed: { type: 'string', value: 'S' },
  threads: { type: 'string', value: 'T' },
  quick: { type: 'boolean' },
  force: { type: 'boolean' },
  units: UNITS,
  help: { type: 'boolean' },
} as const

const RAYS = 2_000_000
const DANGER_RAYS = 1_000_000
const QUICK_RAYS = 65_536
/** The night is drawn by a graphics device, which a terminal need not have. */
const NO_NIGHT = 'Only the page draws the night: this book has no picture of it.'
const QUICK_WORDS = 'Made with --quick, from few rays: ± is wide, and the dangers were searched coarsely.'

export async function bookCommand(parsed: Parsed, tools: Tools): Promise<number> {
  if (parsed.flags.has('chapters')) {
    const rows = CHAPTER_IDS.map((id) => [id, CHAPTER_TITLES[id]])
    tools.io.out(`${columns(rows).join('\n')}\n`)
    return EXIT.fine
  }
  const name = onlyPositional(parsed, 'a lamp file or the name of an example', 'book')
  const without = chaptersOf(parsed.values.get('without'))
  const isQuick = parsed.flags.has('quick')
  const isForced = parsed.flags.has('force')
  const options = {
    maxRays: wholeNumber(parsed, 'rays', { from: 16, to: 1e9, otherwise: isQuick ? QUICK_RAYS : RAYS }),
    seed: wholeNumber(parsed, 'seed', { from: 0, to: 2 ** 32 - 1, otherwise: 1 }),
    threads: wholeNumber(parsed, 'threads', { from: 0, to: 256, otherwise: availableParallelism() }),
  }
  const lamp = await openLamp(name)
  const out = parsed.values.get('out') ?? `${plainName(lamp.name)}-book.pdf`
  const isPdf = /\.pdf$/i.test(out)
  if (!isPdf && !/\.html?$/i.test(out))
    throw new UserError(`--out: ${JSON.stringify(out)} does not fit; expected a name that ends in .pdf or .html.`)
  expectWritable(out, isForced)
  const { results, missing } = await resultsOf(lamp, { ...options, isQuick }, tools)
  const context = { version: VERSION, date: localDate(), hash: designHash(lamp), without, system: unitsOf(parsed) }
  const book = bookOf(lamp, results, { ...context, missing: [...missing, ...(isQuick ? [QUICK_WORDS] : [])] })
  writeFile(out, isPdf ? await pdfOf(book) : bookHtml(book), isForced)
  const nightless = without.includes('night') ? '' : ` ${NO_NIGHT}`
  tools.io.out(`Wrote ${stripControls(out)}, the book of ${stripControls(lamp.name)}.${nightless}\n`)
  tools.io.err(
    severeLine(
      severeTitles(results).map((title) => ({ severity: 'severe', title })),
      ' All of them: on its first page.',
    ),
  )
  return EXIT.fine
}

function chaptersOf(text: string | undefined): ChapterId[] {
  const names = text === undefined ? [] : text.split(',').map((n) => n.trim())
  return names.map((name) => {
    const found = CHAPTER_IDS.find((id) => id === name)
    if (found) return found
    throw new UserError(
      `--without: no chapter ${stripControls(name)}${didYouMean(name, CHAPTER_IDS)}; there is ${CHAPTER_IDS.join(', ')}.`,
    )
  })
}

interface Options {
  maxRays: number
  seed: number
  threads: number
  isQuick: boolean
}

/** A lamp that gives no light, or traps it, has a book too: it says why there are no figures. */
async function resultsOf(
  lamp: Lamp,
  options: Options,
  tools: Tools,
): Promise<{ results: BookResults; missing: string[] }> {
  const { isQuick, ...how } = options
  const missing: string[] = []
  const unlessFault = async <T>(what: string, work: () => Promise<T>): Promise<T | null> => {
    try {
      return await work()
    } catch (error) {
      if (!(error instanceof LampFault)) throw error
      missing.push(`${what}: ${error.message}`)
      return null
    }
  }
  const sheet = await unlessFault<Sheet>('Beam', () => traceWithProgress(lamp, { ...how, variants: true }, tools))
  const danger = await unlessFault<DangerReading>('Dangers', () =>
    dangerWithProgress(
      lamp,
      { ...how, maxRays: isQuick ? QUICK_RAYS : DANGER_RAYS, ...(isQuick ? { rough: true } : {}) },
      tools,
    ),
  )
  const retained = lamp.boards.length === 0 ? null : sheet ? retainedFromLedger(sheet.ledger) : retainedByPilot(lamp)
  const report = runPower(lamp, { retained })
  return {
    results: { sheet, danger, night: { why: NO_NIGHT }, power: { report, findings: powerFindings(lamp, report) } },
    missing,
  }
}

const pdfOf = (book: Book): Promise<Uint8Array> =>
  bookPdf(book, { regular: readFileSync(fontPath('Regular')), bold: readFileSync(fontPath('Bold')) })

/** In public/fonts, from wherever this module runs: the sources, or a bundle of them below node_modules. */
function fontPath(face: 'Regular' | 'Bold'): string {
  const file = `public/fonts/LiberationSans-${face}.ttf`
  for (let folder = dirname(fileURLToPath(import.meta.url)); ; folder = dirname(folder)) {
    const path = join(folder, file)
    if (existsSync(path)) return path
    if (folder === dirname(folder)) throw new Error(`${file} is not where the program is`)
  }
}
