// Runs the command of the arguments and returns the exit status. Any error becomes one sentence on stderr.
import { WorkerEnded } from '../num/scheduler.ts'
import { LampFault } from '../run/validate.ts'
import { CHECK_OPTIONS, checkCommand } from './check.ts'
import { DANGER_OPTIONS, dangerCommand } from './danger.ts'
import { HEAT_OPTIONS, heatCommand } from './heat.ts'
import { COMMANDS, type Command, helpText } from './help.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { didYouMean } from './nearest.ts'
import { NEW_OPTIONS, newCommand } from './newLamp.ts'
import { type OptionTable, type Parsed, parseOptions } from './options.ts'
import { SWEEP_OPTIONS, sweepCommand } from './sweep.ts'
import { TRACE_OPTIONS, traceCommand } from './trace.ts'
import { VERSION } from './version.ts'
import { WIRING_OPTIONS, wiringCommand } from './wiring.ts'

const TABLE: Record<Command, { options: OptionTable; run: (parsed: Parsed, tools: Tools) => Promise<number> }> = {
  trace: { options: TRACE_OPTIONS, run: traceCommand },
  check: { options: CHECK_OPTIONS, run: checkCommand },
  danger: { options: DANGER_OPTIONS, run: dangerCommand },
  sweep: { options: SWEEP_OPTIONS, run: sweepCommand },
  heat: { options: HEAT_OPTIONS, run: heatCommand },
  wiring: { options: WIRING_OPTIONS, run: wiringCommand },
  new: { options: NEW_OPTIONS, run: newCommand },
}

export async function dispatch(args: readonly string[], tools: Tools): Promise<number> {
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
  const { options, run } = TABLE[first]
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
