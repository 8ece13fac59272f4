// A lamp's figures, only as far as they are wanted: what costs more is done only for a figure that needs it. The same seed gives every lamp the
// same random numbers, so that lamps differ by less noise than each has.
import { partsList } from '../../bill/partsList.ts'
import { backwardEstimate, TRUSTED } from '../../engine/backward/estimate.ts'
import { backwardUnsupported } from '../../engine/backward/sources.ts'
import type { Lamp } from '../../lamp/schema.ts'
import type { Figure } from '../../run/figure.ts'
import { compile } from '../../scene/compile.ts'
import { retainedByPilot } from '../beam/retainedLight.ts'
import { hottestJunctionC } from '../power/hottestJunction.ts'
import { lampOperatingPoint } from '../power/light.ts'
import { type CellFinding, type CellReading, traceCell, traceLight } from '../sweep/cell.ts'
import { type Effort, type WishName, wishFigure } from './figures.ts'
import { sizesOf } from './sizes.ts'

export interface EvaluateOptions {
  seed: number
  /** Forward rays. */
  rays: number
  figures: readonly WishName[]
}

export interface Evaluation {
  figures: Partial<Record<WishName, Figure>>
  /** Why a figure can't be had. */
  absent: Partial<Record<WishName, string>>
  /** Worst first; null where no figure needs them. */
  findings: readonly CellFinding[] | null
}

const DARK = 'Nothing shines: no emitter, no current, or no flux.'
const UNREAD = 'It is not read from so short a trace.'

/** In this very thread. */
export async function evaluateLamp(lamp: Lamp, options: EvaluateOptions): Promise<Evaluation> {
  const wanted = [...new Set(options.figures)]
  const efforts = new Set(wanted.map((name) => wishFigure(name).effort))
  const result: Evaluation = { figures: {}, absent: {}, findings: null }
  if (efforts.has('lamp')) Object.assign(result.figures, sizeFigures(lamp))
  if (efforts.has('heat')) addHeat(lamp, result)
  const shines = await addLight(lamp, options, efforts, result)
  const figures: Evaluation['figures'] = {}
  const absent: Evaluation['absent'] = {}
  for (const name of wanted) {
    const figure = result.figures[name]
    if (figure && Number.isFinite(figure.value)) figures[name] = figure
    else absent[name] = result.absent[name] ?? (shines ? UNREAD : DARK)
  }
  return { figures, absent, findings: result.findings }
}

const exactly = (value: number): Figure => ({ value, se: 0 })

function sizeFigures(lamp: Lamp): Evaluation['figures'] {
  const { lengthMm, widthMm } = sizesOf(lamp)
  return {
    lengthMm: exactly(lengthMm),
    widthMm: exactly(widthMm),
    massG: exactly(partsList(lamp).mass.knownG),
  }
}

function addHeat(lamp: Lamp, { figures, absent }: Evaluation): void {
  const most = hottestJunctionC(lamp, retainedByPilot(lamp))
  if (most !== null) figures.junctionC = exactly(most)
  else absent.junctionC = 'The lamp has no boards.'
}

/** False where nothing of the lamp shines. */
async function addLight(
  lamp: Lamp,
  { seed, rays }: EvaluateOptions,
  efforts: ReadonlySet<Effort>,
  result: Evaluation,
): Promise<boolean> {
  if (!efforts.has('axis') && !efforts.has('light') && !efforts.has('whole')) return true
  if (!efforts.has('light') && !efforts.has('whole')) {
    const axial = axisBackwards(lamp, seed)
    if (axial) {
      result.figures.axialIntensityCd = axial
      return axial.value > 0
    }
  }
  const options = { seed, rays }
  const reading = efforts.has('whole') ? await traceCell(lamp, options) : await traceLight(lamp, options)
  if (!reading) return false
  Object.assign(result.figures, reading.figures)
  Object.assign(result.absent, reading.absent)
  if (hasFindings(reading)) {
    result.findings = reading.findings
    result.figures.severeFindings = exactly(reading.findings.filter((f) => f.severity === 'severe').length)
  }
  return true
}

const hasFindings = (reading: object): reading is CellReading => 'findings' in reading

/** First, and where those don’t tell, the next. */
const BACKWARD_RAYS = [1 << 12, 1 << 14, 1 << 16]
/** One standard error of the axis, as a share, that is good enough to compare lamps by. */
const PRECISE = 0.01

/**
 * Axial intensity by backward rays alone; null where the lamp can't be traced backwards. Where few of them meet light its error is not to be trusted, but
 * such an axis is dark beside that of a lamp worth choosing, and what is chosen is traced again.
 */
function axisBackwards(lamp: Lamp, seed: number): Figure | null {
  const scene = compile(lamp, lampOperatingPoint(lamp))
  if (!(scene.emittedW > 0)) return exactly(0)
  if (backwardUnsupported(scene).length > 0) return null
  const halfRad = (lamp.reading.axialConeHalfDeg * Math.PI) / 180
  const aim = { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad } as const
  let found = exactly(0)
  for (const rays of BACKWARD_RAYS) {
    const { value, se, effective } = backwardEstimate(scene, aim, { seed, rays })
    found = { value, se }
    if (effective >= TRUSTED && se <= PRECISE * value) break
  }
  return found
}
