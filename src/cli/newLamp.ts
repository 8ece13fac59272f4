// lampwright new: writes a lamp file to start from.
import { availableParallelism } from 'node:os'
import { basename } from 'node:path'
import { findingsIn } from '../checks/finding.ts'
import { writeLampText } from '../lamp/read.ts'
import { faceText, lengthWords } from '../report/faceText.ts'
import { EXAMPLES } from './help.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { exampleLamp } from './lampFile.ts'
import { didYouMean } from './nearest.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf } from './options.ts'
import { severeLine } from './severeLine.ts'
import { traceWithProgress } from './trace.ts'
import { writeFile } from './writeFile.ts'

export const NEW_OPTIONS = {
  as: { type: 'string', value: 'EXAMPLE' },
  units: UNITS,
  force: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

const ENDING = '.lamp.json'

/** Rays of the trace after writing: enough to find severe hot spots. */
const TRACE_RAYS = 1 << 16

export async function newCommand(parsed: Parsed, tools: Tools): Promise<number> {
  const system = unitsOf(parsed)
  const fileArg = onlyPositional(parsed, 'a name for the lamp', 'new')
  const example = parsed.values.get('as') ?? 'gannet-head'
  const lamp = exampleLamp(example)
  if (!lamp)
    throw new UserError(
      `No example called ${example}${didYouMean(example, EXAMPLES)}; there is ${EXAMPLES.join(', ')}.`,
    )
  const path = fileArg.endsWith(ENDING) ? fileArg : `${fileArg}${ENDING}`
  const name = basename(path).slice(0, -ENDING.length)
  if (name === '' || name.length > 120)
    throw new UserError(`new: ${JSON.stringify(fileArg)} does not fit; expected a name of 1 to 120 characters.`)
  writeFile(path, writeLampText({ ...lamp, name }), parsed.flags.has('force'))
  tools.io.out(`Wrote ${stripControls(path)}, a copy of ${lamp.name}. ${faceText(lamp.face, lengthWords(system))}.\n`)
  const { findings } = await traceWithProgress(
    lamp,
    { maxRays: TRACE_RAYS, seed: 1, threads: availableParallelism() },
    tools,
  )
  tools.io.err(severeLine(findingsIn(findings, system), ' All of them: lampwright check.'))
  return EXIT.fine
}
