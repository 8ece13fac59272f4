// Runs the command of the arguments and returns the exit status. Any error becomes one sentence on stderr.
import { WorkerEnded } from '../num/scheduler.ts'
import { withCommas } from '../num/thousands.ts'
import { LampFault } from '../run/validate.ts'
import { COMMANDS, type Command, helpText } from './help.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { didYouMean } from './nearest.ts'
import { type OptionTable, type Parsed, parseOptions } from './options.ts'
import { VERSION } from './version.ts'

interface Loaded {
  options: OptionTable
  run: (parsed: Parsed, tools: Tools) => Promise<number>
}

/** Each loads its own modules when it is called for: the others' bodies take a tenth of a second to run. */
const LOADERS: Record<Command, () => Promise<Loaded>> = {
  trace: () => import('./trace.ts').then((m) => ({ options: m.TRACE_OPTIONS, run: m.traceCommand })),
  check: () => import('./check.ts').then((m) => ({ options: m.CHECK_OPTIONS, run: m.checkCommand })),
  danger: () => import('./danger.ts').then((m) => ({ options: m.DANGER_OPTIONS, run: m.dangerCommand })),
  sweep: () => import('./sweep.ts').then((m) => ({ options: m.SWEEP_OPTIONS, run: m.sweepCommand })),
  optimize: () => import('./optimize.ts').then((m) => ({ options: m.OPTIMIZE_OPTIONS, run: m.optimizeCommand })),
  tolerances: () =>
    import('./tolerances.ts').then((m) => ({ options: m.TOLERANCES_OPTIONS, run: m.tolerancesCommand })),
  merge: () => import('./merge.ts').then((m) => ({ options: m.MERGE_OPTIONS, run: m.mergeCommand })),
  measure: () => import('./measure.ts').then((m) => ({ options: m.MEASURE_OPTIONS, run: m.measureCommand })),
  compare: () => import('./compare.ts').then((m) => ({ options: m.COMPARE_OPTIONS, run: m.compareCommand })),
  wish: () => import('./wish.ts').then((m) => ({ options: m.WISH_OPTIONS, run: m.wishCommand })),
  heat: () => import('./heat.ts').then((m) => ({ options: m.HEAT_OPTIONS, run: m.heatCommand })),
  wiring: () => import('./wiring.ts').then((m) => ({ options: m.WIRING_OPTIONS, run: m.wiringCommand })),
  draw: () => import('./draw.ts').then((m) => ({ options: m.DRAW_OPTIONS, run: m.drawCommand })),
  parts: () => import('./parts.ts').then((m) => ({ options: m.PARTS_OPTIONS, run: m.partsCommand })),
  solid: () => import('./solid.ts').then((m) => ({ options: m.SOLID_OPTIONS, run: m.solidCommand })),
  optics: () => import('./optics.ts').then((m) => ({ options: m.OPTICS_OPTIONS, run: m.opticsCommand })),
  source: () => import('./source.ts').then((m) => ({ options: m.SOURCE_OPTIONS, run: m.sourceCommand })),
  photometry: () =>
    import('./photometry.ts').then((m) => ({ options: m.PHOTOMETRY_OPTIONS, run: m.photometryCommand })),
  book: () => import('./book.ts').then((m) => ({ options: m.BOOK_OPTIONS, run: m.bookCommand })),
  new: () => import('./newLamp.ts').then((m) => ({ options: m.NEW_OPTIONS, run: m.newCommand })),
  completion: () =>
    import('./completion.ts').then((m) => ({
      options: m.COMPLETION_OPTIONS,
      run: async (parsed, tools) => m.completionCommand(parsed, tools, await allOptions()),
    })),
}

/** Of every command, in the order of --help. */
export async function allOptions(): Promise<Map<Command, OptionTable>> {
  const loaded = await Promise.all(COMMANDS.map(async (name) => [name, (await LOADERS[name]()).options] as const))
  return new Map(loaded)
}

/** Text has commas between thousands; rows of a table of data, which end in CR LF, stay as they are. */
function inEnglish({ io, ...rest }: Tools): Tools {
  const out = (text: string) => io.out(text.includes('\r\n') ? text : withCommas(text))
  return { ...rest, io: { ...io, out, err: (text) => io.err(withCommas(text)) } }
}

export async function dispatch(args: readonly string[], plain: Tools): Promise<number> {
  const tools = inEnglish(plain)
  try {
    // Node puts U+FFFD in place of bytes that are no UTF-8; the file of that name would be another one.
    const garbled = args.find((arg) => arg.includes('\uFFFD'))
    if (garbled !== undefined)
      throw new UserError(`${garbled} holds bytes that are not UTF-8; rename the file and name it again.`)
    return await runChosen(args, tools)
  } catch (error) {
    tools.io.err(`${sentenceOf(error)}\n`)
    return EXIT.refused
  }
}

function sentenceOf(error: unknown): string {
  const why = (error instanceof Error ? error.message : String(error)).split('\n').map(stripControls).join('\n')
  if (error instanceof UserError || error instanceof LampFault) return why
  if (error instanceof WorkerEnded) return `Nothing was computed to its end: ${why.replace(/\s+/g, ' ')}`
  return `The program failed, which is a fault of its own: ${why}`
}

async function runChosen([first, ...rest]: readonly string[], tools: Tools): Promise<number> {
  if (first === undefined) {
    tools.io.err(helpText())
    return EXIT.refused
  }
  if (!isCommand(first)) {
    if (first.startsWith('-')) return bareOptions([first, ...rest], tools)
    throw new UserError(
      `No command ${first}${didYouMean(first, COMMANDS)}; there is ${COMMANDS.join(', ')} (see --help).`,
    )
  }
  const { options, run } = await LOADERS[first]()
  const parsed = parseOptions(rest, options)
  if (parsed.flags.has('help')) {
    tools.io.out(helpText(first))
    return EXIT.fine
  }
  return run(parsed, tools)
}

function bareOptions(args: readonly string[], { io }: Tools): number {
  const { flags, positionals } = parseOptions(args, { help: { type: 'boolean' }, version: { type: 'boolean' } })
  if (positionals.length > 0) throw new UserError(`The command comes first: ${COMMANDS.join(', ')} (see --help).`)
  io.out(flags.has('version') && !flags.has('help') ? `lampwright ${VERSION}\n` : helpText())
  return EXIT.fine
}

const isCommand = (word: string): word is Command => (COMMANDS as readonly string[]).includes(word)
