// Of one kind the smallest lamp that gives the light: sizes in closed form, then a short trace tells by how much the closed form is off, and again.
import { backwardEstimate, TRUSTED } from '../../engine/backward/estimate.ts'
import { backwardUnsupported } from '../../engine/backward/sources.ts'
import { solveOperatingPoint } from '../../heat/operating.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { emitterById } from '../../library/emitters.ts'
import { compile } from '../../scene/compile.ts'
import type { Answers } from '../start/answers.ts'
import { follow, opticTopMm } from '../start/light.ts'
import { loadOf, packGivesW } from '../start/supply.ts'
import { traceCell } from '../sweep/cell.ts'
import { answersFor, type Levers, predictCd } from './answersFor.ts'
import { boardLamp, buildLamp, COOLING_STEPS } from './build.ts'
import { fluxFactor } from './feasible.ts'
import type { Kind } from './kinds.ts'
import { type Wish, wantedCd } from './wish.ts'

/** As much more than wished for as a short trace may be off. */
const MARGIN = 1.05
const NEAR = { least: 1.01, most: 1.15 }
const ROUNDS = 5
/** Of the closed form: less is no matter of size. */
const BETWEEN = 0.1
const MEASURE_RAYS = 1 << 14
const BACKWARD_RAYS = 1 << 13
const LEAST_DRIVE = 0.2
const COUNTS = [
  1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 14, 16, 19, 22, 25, 28, 31, 37, 43, 50, 61, 73, 85, 100, 127, 160, 200, 250, 320, 400,
]
const ONE_BOARD = [7, 12, 19, 37, 61]

interface Sized {
  answers: Answers
  /** cd on the axis, or what the lux that were wished for come to: E · d². */
  cd: number
}

type Short = { ok: false; because: 'light' | 'fit' | 'pack'; mostCd: number | null }
export type SizeResult = { ok: true; sized: Sized } | Short

interface SizeOptions extends Levers {
  seed: number
}

export async function sizeKind(wish: Wish, kind: Kind, options: SizeOptions): Promise<SizeResult> {
  const wanted = wantedCd(wish) * options.more
  const [leastCooling] = COOLING_STEPS
  if (!leastCooling) throw new Error('wish: no cooling')
  let factor = 1
  let over = 0
  let best: Sized | null = null
  for (let round = 0; round < ROUNDS; round++) {
    const chosen = chooseCount(wish, kind, options, { factor, over })
    if (!chosen.ok) {
      if (!best) return chosen
      break
    }
    const { answers } = chosen
    // Cooling has no say in the light: emitters are taken at what they are rated for.
    const boarded = boardLamp(answers)
    const lamp = boarded && buildLamp(wish, boarded, leastCooling)?.lamp
    if (!lamp) return { ok: false, because: 'fit', mostCd: null }
    const cd = await measureCd(wish, lamp, options.seed)
    const share = cd / wanted
    if (!best || better(share, best.cd / wanted)) best = { answers, cd }
    if (share >= NEAR.least && share <= NEAR.most) break
    const next = cd / predictCd(answers)
    // The axis looks between the emitters: another number of boards has one there.
    if (next < BETWEEN) over = kind.oneBoard ? answers.perBoard : answers.boards
    else factor = next
  }
  if (!best || best.cd < wantedCd(wish)) return { ok: false, because: 'light', mostCd: best?.cd ?? null }
  return { ok: true, sized: best }
}

/** Enough light before too little, and of those the one nearest to it. */
const better = (share: number, than: number): boolean => {
  const [enough, wasEnough] = [share >= 1, than >= 1]
  if (enough !== wasEnough) return enough
  return enough ? share < than : share > than
}

type Chosen = { ok: true; answers: Answers } | Short

/**
 * The fewest emitters whose closed form, corrected by `factor`, gives the light at a current that they may carry, from a pack at hand that bears it;
 * then just the current. More than `over`.
 */
function chooseCount(
  wish: Wish,
  kind: Kind,
  levers: Levers,
  { factor, over }: { factor: number; over: number },
): Chosen {
  const aimCd = (wantedCd(wish) * levers.more * MARGIN) / factor
  const at = (count: number, drive: number): Answers => answersFor(wish, kind, { ...levers, count, drive, aimCd })
  let mostCd: number | null = null
  let isPackShort = false
  for (const count of kind.oneBoard ? ONE_BOARD : COUNTS) {
    if (count <= over) continue
    const full = at(count, levers.mostDrive)
    if (full.boards * full.perBoard > (wish.emitters ?? Infinity)) break
    if (!fits(wish, full)) break
    const cd = predictCd(full)
    mostCd = Math.max(mostCd ?? 0, cd * factor)
    if (cd < aimCd * (1 - 1e-9)) continue
    const isSizedByLens = full.optic === 'bare' && full.lens && !wish.lens
    const answers = isSizedByLens ? full : at(count, driveFor(full, levers.mostDrive, aimCd / cd))
    // More emitters at less current take less power.
    if (packBears(wish, answers)) return { ok: true, answers }
    isPackShort = true
  }
  if (isPackShort) return { ok: false, because: 'pack', mostCd: null }
  return { ok: false, because: mostCd === null ? 'fit' : 'light', mostCd }
}

const packBears = ({ pack, minutes = 0 }: Wish, answers: Answers): boolean =>
  pack === undefined || loadOf(answers, follow(answers)).inputW <= packGivesW(pack, minutes)

/** The current, as a share of the rated one, at which the flux is so much of that at `mostDrive`; by halving, the flux rises with current. */
function driveFor({ emitter }: Answers, mostDrive: number, share: number): number {
  const type = emitterById(emitter)
  const flux = (drive: number) => fluxFactor(type, drive * type.ratedCurrentA)
  const wanted = share * flux(mostDrive)
  let [low, high] = [LEAST_DRIVE, mostDrive]
  for (let i = 0; i < 30; i++) {
    const middle = (low + high) / 2
    if (flux(middle) < wanted) low = middle
    else high = middle
  }
  return high
}

/** Face, lens and tunnel within what was wished for; of the length so much is left for plate and sink as the least of them takes. */
function fits(wish: Wish, answers: Answers): boolean {
  const { faceMm, lensMm, lensZMm, tunnelMm } = follow(answers)
  const across = Math.max(faceMm, answers.lens ? lensMm : answers.tunnel ? 1.2 * faceMm : 0)
  const top = opticTopMm(answers)
  const front = answers.lens ? lensZMm + 3 : top + (answers.tunnel ? 2 + tunnelMm : 0)
  if (across > (wish.widthMm ?? Infinity) || front + LEAST_BEHIND_MM > (wish.lengthMm ?? Infinity)) return false
  if (!answers.tunnel || !wish.tunnel) return true
  return across <= wish.tunnel.acrossMm && tunnelMm <= wish.tunnel.lengthMm
}
const LEAST_BEHIND_MM = 31

/** Of the axis alone backward rays tell most; of a target a short trace. */
async function measureCd(wish: Wish, lamp: Lamp, seed: number): Promise<number> {
  if (wish.lux === undefined) {
    const scene = compile(lamp, solveOperatingPoint(lamp))
    if (backwardUnsupported(scene).length === 0) {
      const halfRad = (lamp.reading.axialConeHalfDeg * Math.PI) / 180
      const aim = { kind: 'cone', thetaRad: 0, phiRad: 0, halfRad } as const
      const { value, effective } = backwardEstimate(scene, aim, { seed, rays: BACKWARD_RAYS })
      if (effective >= TRUSTED) return value
    }
  }
  const reading = await traceCell(lamp, { seed, rays: MEASURE_RAYS })
  return reading ? wishedCd(wish, reading.figures) : 0
}

/** What was wished for, out of a trace: cd on the axis, or E · d² of the target's mean or middle. */
export function wishedCd(wish: Wish, figures: NonNullable<Awaited<ReturnType<typeof traceCell>>>['figures']): number {
  const { lux, sizeM, distanceM = 0 } = wish
  if (lux === undefined) return figures.axialIntensityCd?.value ?? 0
  const figure = sizeM === undefined ? figures.targetCentreLx : figures.targetMeanLx
  return (figure?.value ?? 0) * distanceM ** 2
}
