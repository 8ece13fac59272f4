// lampwright optics: what light passes on its way, in words; and a reflector of a known curve put in place of the tunnel, into a file of its own.

import { checkDesign } from '../checks/check.ts'
import { findingsIn } from '../checks/finding.ts'
import { emissionPoints } from '../checks/optics.ts'
import type { Finish } from '../lamp/assembly.ts'
import { findAssemblyFaults } from '../lamp/assemblyChecks.ts'
import { findLensFaults } from '../lamp/lensChecks.ts'
import { writeLampText } from '../lamp/read.ts'
import type { Lamp, Tunnel } from '../lamp/schema.ts'
import { concentratorTunnel, type MadeReflector, paraboloidTunnel } from '../layout/reflectors.ts'
import { finishFields, WALL_FINISHES, withFinish } from '../library/wallFinishes.ts'
import { roundedUp } from '../num/sided.ts'
import { elementLines, tunnelWords } from '../report/optics.ts'
import { columns, short, wrapped } from './format.ts'
import { EXIT, stripControls, type Tools, UserError } from './io.ts'
import { openLamp } from './lampFile.ts'
import { didYouMean } from './nearest.ts'
import { onlyPositional, type Parsed, UNITS, unitsOf } from './options.ts'
import { severeLine } from './severeLine.ts'
import { writeFile } from './writeFile.ts'

export const OPTICS_OPTIONS = {
  paraboloid: { type: 'string', value: 'FOCAL:NECK:RIM' },
  concentrator: { type: 'string', value: 'ANGLE:SMALL' },
  finish: { type: 'string', value: 'FINISH' },
  to: { type: 'string', value: 'FILE' },
  force: { type: 'boolean' },
  list: { type: 'boolean' },
  units: UNITS,
  help: { type: 'boolean' },
} as const

const WIDTH = 96

export async function opticsCommand(parsed: Parsed, { io }: Tools): Promise<number> {
  if (parsed.flags.has('list')) {
    io.out(finishList())
    return EXIT.fine
  }
  const lamp = await openLamp(onlyPositional(parsed, 'a lamp file or the name of an example', 'optics'))
  const { changed, notes } = withChanges(lamp, parsed)
  const to = parsed.values.get('to')
  if (changed && to === undefined) throw new UserError('A changed lamp goes into a file: --to FILE.')
  if (!changed && to !== undefined)
    throw new UserError('--to: nothing is changed; give --paraboloid, --concentrator or --finish.')
  const system = unitsOf(parsed)
  const shown = changed ?? lamp
  const lines = [...tunnelWords(shown, system), ...elementLines(shown, system), ...notes]
  if (changed && to !== undefined) writeFile(to, writeLampText(changed), parsed.flags.has('force'))
  const wrote = to === undefined ? '' : `Wrote ${stripControls(to)}.\n`
  io.out(
    `${stripControls(shown.name)}\n${lines.map((l) => wrapped(stripControls(l), WIDTH, '  ')).join('\n')}\n${wrote}`,
  )
  if (changed) io.err(severeLine(findingsIn(checkDesign(changed), system), ' All of them: lampwright check.'))
  return EXIT.fine
}

function finishList(): string {
  const rows = WALL_FINISHES.map((f) => [
    f.id,
    `${short(100 * f.reflectance)} ± ${short(100 * f.doubtful)} %`,
    `${short(100 * f.specularShare)} % mirror`,
    `${short(f.scatterDeg)}°`,
    f.name,
  ])
  return `${columns(rows, [1, 2, 3]).join('\n')}\n`
}

function withChanges(lamp: Lamp, parsed: Parsed): { changed: Lamp | null; notes: string[] } {
  const finish = chosenFinish(parsed)
  const made = madeReflector(lamp, parsed, finish)
  if (made) {
    if (!made.ok) throw new UserError(made.why)
    const changed = { ...lamp, tunnel: made.tunnel }
    const faults = [...findLensFaults(changed), ...findAssemblyFaults(changed)]
    if (faults.length > 0)
      throw new UserError(`The reflector doesn’t fit this lamp:\n  ${faults.map(stripControls).join('\n  ')}`)
    return { changed, notes: [`Neighbours differ by up to ${short(roundedUp(made.worstStepDeg))}° in slope.`] }
  }
  if (!finish) return { changed: null, notes: [] }
  if (!lamp.tunnel) throw new UserError('--finish: the lamp has no tunnel.')
  return { changed: { ...lamp, tunnel: finished(lamp.tunnel, finish) }, notes: [] }
}

const finished = (tunnel: Tunnel, finish: (typeof WALL_FINISHES)[number]): Tunnel => ({
  ...withFinish(tunnel, finish),
  ...(tunnel.joints ? { joints: tunnel.joints.map((j) => withFinish(j, finish)) } : {}),
})

function chosenFinish(parsed: Parsed): (typeof WALL_FINISHES)[number] | null {
  const id = parsed.values.get('finish')
  if (id === undefined) return null
  const found = WALL_FINISHES.find((f) => f.id === id)
  if (found) return found
  const ids = WALL_FINISHES.map((f) => f.id)
  throw new UserError(`No finish ${id}${didYouMean(id, ids)}; there is ${ids.join(', ')}.`)
}

/** Null where none is asked for. A paraboloid’s focus is at the emitters’ mean height; a concentrator begins at their greatest. */
function madeReflector(
  lamp: Lamp,
  parsed: Parsed,
  library: (typeof WALL_FINISHES)[number] | null,
): MadeReflector | null {
  const [paraboloid, concentrator] = [parsed.values.get('paraboloid'), parsed.values.get('concentrator')]
  if (paraboloid === undefined && concentrator === undefined) return null
  if (paraboloid !== undefined && concentrator !== undefined)
    throw new UserError('--paraboloid or --concentrator, not both.')
  const finish = finishOf(lamp.tunnel, library)
  const heights = emissionPoints(lamp).map((s) => s.zMm)
  if (paraboloid !== undefined) {
    const [focalMm, inMm, outMm] = numbers('paraboloid', paraboloid, 'FOCAL:NECK:RIM', 3, 3)
    const focusZMm = heights.reduce((sum, z) => sum + z, 0) / Math.max(1, heights.length)
    return paraboloidTunnel({ focalMm: focalMm ?? 0, focusZMm, inMm: inMm ?? 0, outMm: outMm ?? 0, finish })
  }
  const [acceptanceDeg, inMm, keptShare] = numbers(
    'concentrator',
    concentrator ?? '',
    'ANGLE:SMALL or ANGLE:SMALL:KEPT',
    2,
    3,
  )
  const zInMm = heights.reduce((most, z) => Math.max(most, z), 0)
  const size = { acceptanceDeg: acceptanceDeg ?? 0, inMm: inMm ?? 0 }
  return concentratorTunnel({ ...size, zInMm, keptShare: keptShare ?? 1, sides: lamp.tunnel?.sides ?? 0, finish })
}

/** The library’s, else the tunnel’s own. */
function finishOf(tunnel: Tunnel | null, library: (typeof WALL_FINISHES)[number] | null): Finish {
  if (library) return finishFields(library)
  if (!tunnel) throw new UserError('The lamp has no tunnel to take the finish from: --finish FINISH (see --list).')
  const { reflectance, specularShare, scatterDeg, reflectanceByNm, finish } = tunnel
  return {
    ...{ reflectance, specularShare, scatterDeg },
    ...(reflectanceByNm ? { reflectanceByNm } : {}),
    ...(finish === undefined ? {} : { finish }),
  }
}

function numbers(name: string, text: string, form: string, least: number, most: number): number[] {
  const values = text.split(':').map((part) => (part.trim() === '' ? Number.NaN : Number(part)))
  if (values.length >= least && values.length <= most && values.every(Number.isFinite)) return values
  throw new UserError(`--${name}: ${JSON.stringify(text)} does not fit; expected ${form}, numbers.`)
}
