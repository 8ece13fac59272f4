// Sizes of a new lamp, each from those before it: the board from its optics, the face from the boards, lens and tunnel from face and optic.
import { LIMITS } from '../../lamp/limits.ts'
import type { BoardType, EmitterType, Site } from '../../lamp/schema.ts'
import { outlineAround } from '../../layout/boardDesigner.ts'
import { emitterById } from '../../library/emitters.ts'
import { hexagonalPlaces, ringPlaces, rowPlaces } from '../../num/places.ts'
import type { Answers, FaceShape, Followed } from './answers.ts'

/** Of a new face, mm. */
export const CLEARANCE_MM = 0.5
export const MARGIN_MM = 2

/** Exit of a collimator and its height over the face, mm: common sizes, no source. */
const LEAST_EXIT_MM = 10
const HEIGHT_PER_EXIT = 1.2
/** Between the rims of two optics. */
const BETWEEN_OPTICS_MM = 2
/** From the outermost optic to the board's edge. */
const BORDER_MM = 1
/** Widths in which collimators are sold, about (common practice, no source). */
const WIDTHS_DEG = [5, 6, 8, 10, 12, 20, 30, 45, 60, 90]

/** The array's own spread behind the lens, 2·atan(face / 2f), as a share of the optic's width: well under 1, or the lens gains nothing. */
const SPREAD_SHARE = 0.6
/** Longer lamps are rarely built (our choice). */
const MOST_FOCAL_FACES = 5
/** So far inside its focus a lens throws no picture of the array: the middle of 3 to 8 %. */
const INSIDE_FOCUS = 0.95
/** A flat lens of a shorter focus than this many diameters loses much at its edge (common practice, no source). */
const LEAST_FOCUS_DIAMETERS = 0.8
const MOST_LENS_FACES = 2
/** Between the optics and the tunnel, and between tunnel and lens. */
const TUNNEL_AFTER_MM = 2
const LENS_AFTER_MM = 10
/** Without a lens: how much wider the mouth is than the face. */
const MOUTH_FACES = 1.2

const rad = (deg: number) => (deg * Math.PI) / 180
const upTo = (mm: number, step: number) => Math.ceil(mm / step - 1e-9) * step
const within = (mm: number, least: number, most: number) => Math.min(most, Math.max(least, mm))

const exitMm = ({ emitter, typed }: Answers): number =>
  typed.exitMm ?? Math.max(LEAST_EXIT_MM, 2 * emitterById(emitter).bodyMm)

const sourceMm2 = ({ source }: EmitterType): number =>
  source.shape === 'disc' ? (Math.PI / 4) * source.diameterMm ** 2 : source.widthMm * source.heightMm

/**
 * Full width, degrees: the narrowest usual one that its exit can have of a source that shines into the half space. Étendue:
 * A_exit · sin²(width / 2) ≥ A_source.
 */
function narrowestDeg(answers: Answers, emitter: EmitterType): number {
  const exitMm2 = (Math.PI / 4) * exitMm(answers) ** 2
  const leastDeg = (360 / Math.PI) * Math.asin(Math.sqrt(Math.min(1, sourceMm2(emitter) / exitMm2)))
  return WIDTHS_DEG.find((deg) => deg >= leastDeg) ?? 120
}

/** Space that an emitter and its optic take on a board, mm. */
const takenMm = (answers: Answers, emitter: EmitterType): number =>
  answers.optic === 'bare' ? emitter.bodyMm : exitMm(answers)

/** Two in a row, three to six on a circle, more from the middle of a hexagonal lattice outwards. */
export function boardSites(count: number, pitchMm: number): Site[] {
  if (count <= 2) return rowPlaces(count, pitchMm)
  if (count <= 6) return ringPlaces(count, pitchMm / (2 * Math.sin(Math.PI / count)))
  let rings = 1
  while (1 + 3 * rings * (rings + 1) < count) rings++
  const all = hexagonalPlaces(rings, pitchMm)
  const inner = all.slice(0, 1 + 3 * (rings - 1) * rings)
  const outer = all.slice(inner.length)
  const rest = count - inner.length
  // Of the last ring so many, all round: on one side they would lean the board.
  const share = (i: number) => Math.floor((i * rest) / outer.length)
  return [...inner, ...outer.filter((_, i) => share(i) !== share(i - 1))]
}

export function startBoard(answers: Answers): BoardType {
  const emitter = emitterById(answers.emitter)
  const taken = takenMm(answers, emitter)
  const sites = boardSites(answers.perBoard, taken + BETWEEN_OPTICS_MM)
  const outline = outlineAround('disc', sites, taken, BORDER_MM)
  return { id: 'board', name: `Board of ${answers.perBoard}`, outline, emitter: emitter.id, sites }
}

const boardMm = ({ outline }: BoardType): number => (outline.shape === 'disc' ? outline.diameterMm : 0)

/**
 * The least face, mm across flats, that holds so many round boards, up to whole 5 mm: on a round face the innermost places of a hexagonal lattice,
 * on a hexagon whole rings of it, on a square rows and columns.
 */
function faceAroundMm(shape: FaceShape, count: number, discMm: number): number {
  const pitchMm = discMm + CLEARANCE_MM
  const border = discMm + 2 * MARGIN_MM
  let rings = 0
  while (1 + 3 * rings * (rings + 1) < count) rings++
  if (shape === 'square') return upTo((Math.ceil(Math.sqrt(count)) - 1) * pitchMm + border, 5)
  if (shape === 'hexagon') return upTo(Math.sqrt(3) * rings * pitchMm + border, 5)
  const reaches = hexagonalPlaces(rings + 1, pitchMm).map((p) => Math.hypot(p.xMm, p.yMm))
  const reach = reaches.sort((a, b) => a - b)[count - 1] ?? 0
  return upTo(2 * reach + border, 5)
}

/** What follows from the answers, in their order, each typed number in place of its own. */
export function follow(answers: Answers): Followed {
  const { typed } = answers
  const emitter = emitterById(answers.emitter)
  const currentA = typed.currentA ?? emitter.ratedCurrentA
  const opticDeg = typed.opticDeg ?? narrowestDeg(answers, emitter)
  const faceMm =
    typed.faceMm ?? within(faceAroundMm(answers.face, answers.boards, boardMm(startBoard(answers))), 10, LIMITS.faceMm)
  const beamDeg = answers.optic === 'bare' ? 120 : opticDeg
  const wantedMm = faceMm / (2 * Math.tan(rad((SPREAD_SHARE * beamDeg) / 2)))
  const focalMm =
    typed.focalMm ?? within(upTo(within(wantedMm, faceMm, MOST_FOCAL_FACES * faceMm), 10), 10, LIMITS.lengthMm)
  const lensZMm =
    typed.lensZMm ??
    within(Math.round(opticTopMm(answers) + INSIDE_FOCUS * focalMm), tunnelFromMm(answers) + 20, LIMITS.lengthMm)
  // As wide as a beam of the optic's width from the face's edge is there.
  const coneMm = faceMm + 2 * lensZMm * Math.tan(rad(Math.min(beamDeg, 160) / 2))
  const mostMm = Math.min(MOST_LENS_FACES * faceMm, focalMm / LEAST_FOCUS_DIAMETERS, LIMITS.lensMm)
  const lensMm = typed.lensMm ?? Math.max(1, Math.min(upTo(coneMm, 10), Math.floor(mostMm)))
  const toLensMm = lensZMm - LENS_AFTER_MM - tunnelFromMm(answers)
  const tunnelMm = answers.lens ? Math.min(typed.tunnelMm ?? toLensMm, toLensMm) : (typed.tunnelMm ?? faceMm)
  return { currentA, opticDeg, exitMm: exitMm(answers), faceMm, focalMm, lensMm, lensZMm, tunnelMm }
}

/** Height of the optics over the face, or of the bare emitters, mm. */
export function opticTopMm(answers: Answers): number {
  const emitter = emitterById(answers.emitter)
  return answers.optic === 'bare' ? emitter.heightMm : HEIGHT_PER_EXIT * exitMm(answers)
}

export const tunnelFromMm = (answers: Answers): number => opticTopMm(answers) + TUNNEL_AFTER_MM

/** The tunnel's mouth, mm across flats: within the lens, a hexagon's corners at its rim; without a lens somewhat more than the face. */
export function mouthMm(answers: Answers, { faceMm, lensMm }: Followed): number {
  if (!answers.lens) return within(Math.round(MOUTH_FACES * faceMm), 1, LIMITS.lensMm)
  return answers.face === 'hexagon' ? Math.max(1, Math.floor((lensMm * Math.sqrt(3)) / 2)) : lensMm
}
