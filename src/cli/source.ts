// lampwright source: a ray file (IES TM-25) as the light of an emitter type; into a lamp file of its own, or in words alone.
import { createReadStream, statSync } from 'node:fs'
import { basename } from 'node:path'
import { checkDesign } from '../checks/check.ts'
import { findingsIn } from '../checks/finding.ts'
import { type LoadedRays, loadEmitterRays } from '../job/rays/emitterRays.ts'
import { fluxFault, underCollimators, withoutRays, withRays } from '../job/rays/takeRays.ts'
import { readLamp, writeLampText } from '../lamp/read.ts'
import type { EmitterType, Lamp } from '../lamp/schema.ts'
import { HIDDEN_RAYS, rayFileNotes, rayFileRows } from '../report/rayFile.ts'
import { columns, wrapped } from './format.ts'
import { EXIT, type Io, stripControls, type Tools, UserError } from './io.ts'
import { openLamp, readFault } from './lampFile.ts'
import { didYouMean } from './nearest.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf } from './options.ts'
import { progressOn } from './progress.ts'
import { severeLine } from './severeLine.ts'
import { expectWritable, writeFile } from './writeFile.ts'

export const SOURCE_OPTIONS = {
  rays: { type: 'string', value: 'FILE' },
  emitter: { type: 'string', value: 'ID' },
  centre: { type: 'boolean' },
  flux: { type: 'boolean' },
  without: { type: 'boolean' },
  units: UNITS,
  to: { type: 'string', value: 'FILE' },
  force: { type: 'boolean' },
  help: { type: 'boolean' },
} as const

const WIDTH = 96

export async function sourceCommand(parsed: Parsed, { io }: Tools): Promise<number> {
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'source'))
  const type = chosenType(lamp, parsed.values.get('emitter'))
  const path = parsed.values.get('rays')
  const to = parsed.values.get('to')
  const without = parsed.flags.has('without')
  if ((path === undefined) === !without) throw new UserError('source needs one of --rays FILE and --without.')
  if (without && to === undefined) throw new UserError('A changed lamp goes into a file: --to FILE.')
  if (to !== undefined) expectWritable(to, parsed.flags.has('force'))
  const changed = path === undefined ? takenOut(lamp, type) : await taken(lamp, type, path, parsed, io)
  if (to === undefined) return EXIT.fine
  writeFile(to, writeLampText(changed), parsed.flags.has('force'))
  io.out(`Wrote ${stripControls(to)}.\n`)
  io.err(severeLine(findingsIn(checkDesign(changed), unitsOf(parsed)), ' All of them: lampwright check.'))
  return EXIT.fine
}

function chosenType({ emitterTypes }: Lamp, id: string | undefined): EmitterType {
  const ids = emitterTypes.map((e) => e.id)
  const found =
    id === undefined ? (emitterTypes.length === 1 ? emitterTypes[0] : undefined) : emitterTypes.find((e) => e.id === id)
  if (found) return found
  if (id === undefined)
    throw new UserError(`The lamp has several emitter types; name one: --emitter ${ids.join(' or --emitter ')}.`)
  throw new UserError(
    `--emitter: no emitter type ${JSON.stringify(id)}${didYouMean(id, ids)}; there is ${ids.join(', ')}.`,
  )
}

function takenOut(lamp: Lamp, type: EmitterType): Lamp {
  if (!type.rays) throw new UserError(`--without: “${type.name}” has no rays.`)
  return withoutRays(lamp, type.id)
}

async function taken(lamp: Lamp, type: EmitterType, path: string, parsed: Parsed, io: Io): Promise<Lamp> {
  const system = unitsOf(parsed)
  const read = await readRays(path, io)
  if (!read.ok) throw new UserError(`${path}: ${read.why}`)
  const { loaded } = read
  const flux = parsed.flags.has('flux')
  const fault = flux ? fluxFault(loaded.facts.fileLm) : null
  if (fault !== null) throw new UserError(`--flux: ${fault}`)
  const rows = columns(rayFileRows(loaded, system)).map((line) => `  ${line}`)
  const hidden = underCollimators(lamp, type.id) ? [HIDDEN_RAYS] : []
  const notes = [...rayFileNotes(loaded, type, system), ...hidden].map(
    (line) => `- ${wrapped(stripControls(line), WIDTH, '  ')}`,
  )
  io.out(
    `${[`${stripControls(path)}, as the light of “${stripControls(type.name)}”:`, ...rows, ...notes].join('\n')}\n`,
  )
  const changed = readLamp(withRays(lamp, type.id, loaded, { centred: parsed.flags.has('centre'), flux }))
  if (!changed.ok) throw new UserError(changed.why.join(' '))
  return changed.lamp
}

async function readRays(path: string, io: Io): Promise<LoadedRays> {
  const progress = progressOn(io, () => 'of the file')
  try {
    const stat = statSync(path)
    if (stat.isDirectory()) throw new UserError(`${path} is a folder; expected a ray file.`)
    const chunks = createReadStream(path, { highWaterMark: 1 << 20 })
    return await loadEmitterRays({ name: basename(path), chunks, size: stat.isFile() ? stat.size : 0 }, (share) =>
      progress.show({ rays: Math.floor(100 * share), maxRays: 100 }),
    )
  } catch (error) {
    if (error instanceof UserError || (error as NodeJS.ErrnoException).code === undefined) throw error
    throw new UserError(readFault(path, error, 'a ray file'))
  } finally {
    progress.end()
  }
}
