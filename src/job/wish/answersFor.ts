// Sizes of a lamp of one kind for a count of emitters, each in closed form, and the intensity that they come to before anything is traced.
import { LIMITS } from '../../lamp/limits.ts'
import { emitterById } from '../../library/emitters.ts'
import type { Answers, Followed } from '../start/answers.ts'
import { FIRST_ANSWERS } from '../start/answers.ts'
import { follow, opticTopMm } from '../start/light.ts'
import { loadOf, packServesV } from '../start/supply.ts'
import { fluxFactor, LENS_PASSES } from './feasible.ts'
import type { Kind } from './kinds.ts'
import { targetDeg, type Wish } from './wish.ts'

/** What a try changes that was not good enough. */
export interface Levers {
  /** Emitters' current at the most, of the rated one. */
  mostDrive: number
  /** Place in the kind's exits. */
  exit: number
  /** A lens behind collimators, as a multiple of the one that just takes their beam: light that is spread over more of it is weaker in front. */
  lensWide: number
  /** No lens larger than this, mm. */
  mostLensMm: number
  /** A tunnel without a lens, as a share of the usual length: a shorter one gathers less of the sun. */
  tunnelShare: number
  /** Light that is aimed at, of what was wished for. */
  more: number
}

export const FIRST_LEVERS: Levers = {
  ...{ mostDrive: 1, exit: 0, lensWide: 1, mostLensMm: LIMITS.lensMm },
  ...{ tunnelShare: 1, more: 1 },
}

/** What corrections after a trace or a run of heat change. */
export interface Setting extends Omit<Levers, 'mostDrive' | 'more'> {
  /** Boards, or emitters of the one board. */
  count: number
  /** Through each emitter, as a share of its rated current. */
  drive: number
  /** cd that a lens over bare emitters is made for, by the closed form. */
  aimCd: number
}

/** Behind the face: plate and sink, as far as the length is shared out before they are known. */
const BEHIND_MM = 75
const COLLIMATOR_PASSES = 0.88
/** A flat lens of a shorter focus than this many diameters loses much at its edge (common practice, no source). */
const LEAST_FOCUS_DIAMETERS = 0.8
const INSIDE_FOCUS = 0.95
const RAD = Math.PI / 180

export function answersFor(wish: Wish, kind: Kind, setting: Setting): Answers {
  const { count, drive, exit } = setting
  const id = wish.emitter ?? kind.emitter
  const emitter = emitterById(id)
  const exitMm = kind.exitsMm[exit]
  const plain: Answers = {
    ...FIRST_ANSWERS,
    ...{ name: kind.name, emitter: id, optic: kind.optic, lens: kind.lens },
    boards: kind.oneBoard ? 1 : count,
    perBoard: kind.oneBoard ? count : kind.perBoard,
    tunnel: kind.tunnel,
    ...(wish.minutes !== undefined && { minutes: wish.minutes }),
    ...(wish.pack && { pack: wish.pack }),
    typed: {
      currentA: Number((drive * emitter.ratedCurrentA).toPrecision(4)),
      ...(exitMm !== undefined && { exitMm: Math.max(exitMm, 2 * emitter.bodyMm) }),
    },
  }
  const fitted = wish.pack && !kind.oneBoard ? boardsForPack(plain, wish.pack.series) : plain
  const angled = withAngle(wish, fitted)
  return kind.lens ? withLens(wish, kind, angled, setting) : withMouth(wish, angled, setting)
}

/** So few emitters on a board that the pack's voltage serves them at their greatest current, so that dimming changes no board; the count of emitters is kept. */
function boardsForPack(answers: Answers, series: number): Answers {
  const { maxCurrentA } = emitterById(answers.emitter)
  for (let perBoard = answers.perBoard; perBoard >= 1; perBoard--) {
    const fewer = { ...answers, perBoard, boards: Math.ceil((answers.boards * answers.perBoard) / perBoard) }
    const atMost = { ...follow(fewer), currentA: maxCurrentA }
    if (loadOf(fewer, atMost).boardV <= packServesV(series)) return fewer
  }
  return answers
}

/** Without a lens the collimators are as wide as the target, but not narrower than étendue lets them. */
function withAngle(wish: Wish, answers: Answers): Answers {
  const wideDeg = targetDeg(wish)
  if (answers.optic === 'bare' || answers.lens || wideDeg === null) return answers
  const { opticDeg } = follow(answers)
  return { ...answers, typed: { ...answers.typed, opticDeg: Math.max(opticDeg, Math.round(wideDeg)) } }
}

function withMouth(wish: Wish, answers: Answers, { tunnelShare }: Setting): Answers {
  if (answers.tunnel === null) return answers
  const { faceMm } = follow(answers)
  const mostMm = Math.min(
    wish.tunnel?.lengthMm ?? Infinity,
    (wish.lengthMm ?? Infinity) - BEHIND_MM - opticTopMm(answers) - 2,
  )
  return {
    ...answers,
    typed: { ...answers.typed, tunnelMm: Math.max(20, Math.floor(Math.min(tunnelShare * faceMm, mostMm))) },
  }
}

/** The lens at hand, or one whose picture of the face covers the target, within length and width. */
function withLens(wish: Wish, kind: Kind, fitted: Answers, { aimCd, lensWide, mostLensMm }: Setting): Answers {
  const answers = kind.tunnel ? fitted : withWiderOptics(fitted, lensWide)
  const plain = follow(answers)
  const wideDeg = targetDeg(wish)
  const topMm = opticTopMm(answers)
  const mostFocalMm = ((wish.lengthMm ?? LIMITS.lengthMm) - BEHIND_MM - topMm - 5) / INSIDE_FOCUS
  const mostAcrossMm = Math.min(wish.widthMm ?? mostLensMm, (kind.tunnel && wish.tunnel?.acrossMm) || mostLensMm)
  let { focalMm } = plain
  let lensMm = plain.lensMm * lensWide
  if (answers.optic === 'bare') {
    lensMm = Math.ceil(bareLensMm(answers, aimCd))
    focalMm = LEAST_FOCUS_DIAMETERS * lensMm
  }
  if (wideDeg !== null) focalMm = plain.faceMm / (2 * Math.tan((wideDeg * RAD) / 2))
  if (kind.tunnel && wish.tunnel) focalMm = Math.min(focalMm, wish.tunnel.lengthMm / INSIDE_FOCUS)
  focalMm = Math.max(10, Math.floor(Math.min(focalMm, mostFocalMm)))
  lensMm = Math.max(10, Math.floor(Math.min(lensMm, focalMm / LEAST_FOCUS_DIAMETERS, mostAcrossMm, mostLensMm)))
  if (wish.lens) [focalMm, lensMm] = [wish.lens.focalMm, wish.lens.sizeMm]
  const typed: Partial<Followed> = { ...answers.typed, focalMm, lensMm, faceMm: plain.faceMm }
  return { ...answers, typed }
}

/** Without a tunnel only wider optics bring light to more of the lens; its focal length stays. Beams of narrow ones meet a focal length in front of it. */
function withWiderOptics(answers: Answers, by: number): Answers {
  if (by === 1 || answers.optic === 'bare') return answers
  const { opticDeg, focalMm } = follow(answers)
  return { ...answers, typed: { ...answers.typed, opticDeg: Math.round(opticDeg * by), focalMm } }
}

/** The least lens of a bare array that gives so many candela, mm: I = τ L A. */
function bareLensMm(answers: Answers, candela: number): number {
  return Math.sqrt((4 * candela) / (Math.PI * LENS_PASSES * arrayLuminance(answers)))
}

/** Mean luminance of the array's disc, cd/mm². */
const arrayLuminance = (answers: Answers): number => emittedLm(answers) / (Math.PI * arrayMm2(answers))

const arrayMm2 = (answers: Answers): number => (Math.PI / 4) * follow({ ...answers, typed: {} }).faceMm ** 2

function emittedLm(answers: Answers): number {
  const emitter = emitterById(answers.emitter)
  return answers.boards * answers.perBoard * emitter.fluxLm * fluxFactor(emitter, follow(answers).currentA)
}

/**
 * cd on the axis, roughly. Collimators of Gaussian shape without a lens: I₀ = η Φ / (π w² / 4 ln 2). Behind a lens: the face is seen in Φ/Ω,
 * Ω = A_face / f², of the light that meets the lens; of a bare array I = τ L A_lens (conservation of radiance: Welford and Winston).
 */
export function predictCd(answers: Answers): number {
  const flux = emittedLm(answers)
  const { opticDeg, focalMm, lensMm, lensZMm } = follow(answers)
  if (answers.optic === 'bare' && !answers.lens) return flux / Math.PI
  if (answers.optic === 'bare') return LENS_PASSES * arrayLuminance(answers) * (Math.PI / 4) * lensMm ** 2
  const w = opticDeg * RAD
  if (!answers.lens) return (COLLIMATOR_PASSES * flux * 4 * Math.LN2) / (Math.PI * w ** 2)
  const halfRad = Math.atan(lensMm / 2 / lensZMm)
  const met = 1 - 2 ** (-4 * (halfRad / w) ** 2)
  const srFace = arrayMm2(answers) / focalMm ** 2
  return (LENS_PASSES * COLLIMATOR_PASSES * flux * met) / srFace
}
