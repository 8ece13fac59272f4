// How hot the lamp's own parts get by its own light: lens, lining, what sits on the boards, small optics. Screening, hot side: a patch
// loses heat on one side only and nothing is carried away along the sheet.
import { elementsOf, labelOf, mappedElement, mappedIndex, type RowElement } from '../lamp/assembly.ts'
import { elementSpan } from '../lamp/body.ts'
import { faceReachMm } from '../lamp/facePlate.ts'
import { liesFlat, placeEmitters } from '../lamp/place.ts'
import type { Lamp } from '../lamp/schema.ts'
import { emitterPower } from '../library/emitterSpectrum.ts'
import { dirtTemperatureC, steadyTemperatureC } from '../library/heatBalance.ts'
import { lensAbsorption, lensIndex, materialOfPiece } from '../library/lensMaterial.ts'
import { elementWords } from '../library/lensSystem.ts'
import type { LensMaterialRow } from '../library/materials.ts'
import {
  BOARD_PLASTIC_LIMIT,
  type HeatLimit,
  LINING_LIMITS,
  OPTIC_LIMIT,
  secondsToHarm,
  thresholds,
} from '../library/thresholds.ts'
import { wallTakesIn } from '../library/wallFinishes.ts'
import { countUpper, T95 } from '../num/stats.ts'
import { inThousands } from '../num/thousands.ts'
import { overBatches } from '../run/batches.ts'
import type { HotSpot } from '../run/figure.ts'
import { tallyLayout } from '../run/layout.ts'
import { absorbedPart } from '../run/parts.ts'
import { FATES, type Run } from '../run/types.ts'
import { absorbedBySheet, lensOverFaceC } from './balance.ts'
import { readElementSpots, readFaceSpot, readLensSpot, readWallSpot, upperKWm2 } from './discs.ts'
import { boardSpanMm, onStoppingBoard } from './sun.ts'

interface Part {
  /** Upper end of the hottest disc. */
  kWm2: number
  spot: HotSpot
  /** Clean, and where dirt, soot or a scratch takes in all of the light. */
  cleanC: number
  dirtyC: number
}

interface LensHeat extends Part {
  /** “Lens”, or of a lamp without one the label of what light from the face meets first. */
  name: string
  material: string
  /** Share of the light on it that it can take in: the less clear sample, the longest way through. */
  absorbedShare: number
  /** All of it together, as traced, upper end, scaled to the less clear sample. */
  absorbedW: number
  /** Of the face below it, whose heat comes on top. */
  faceC: number
  keepBelowC: number | null
  deflectionC: number | null
  source: string
}

interface WallHeat extends Part {
  absorbedShare: number
  limits: (HeatLimit & { passed: boolean })[]
}

interface BoardHeat {
  kWm2: number
  spot: HotSpot
  /** What the face is at, this spot's light left out. */
  faceC: number
  faceFrom: string
  /** A dark plastic part or sleeve that stands off the face and takes in all of it. */
  plasticC: number
  /** Until thin plastic there softens (a sleeve of 0.5 mm, a holder of 1 mm: the sooner); null: it doesn't. */
  plasticSeconds: number | null
  limit: HeatLimit & { passed: boolean }
}

interface OpticHeat {
  name: string
  /** All that the optic doesn't pass, taken in by it: W of one emitter, over its exit and as much again of its side. */
  takenW: number
  settlesC: number
  /** Of the face below it. */
  faceC: number
  limit: HeatLimit & { passed: boolean }
}

/** A cover, a film or a further lens; null: no light on it, and the face alone warms it. */
interface ElementHeat extends Omit<LensHeat, 'spot'> {
  /** Where it stands in `elementsOf`. */
  index: number
  spot: HotSpot | null
}

export interface PartsHeat {
  lens: LensHeat | null
  /** The other elements in their order from the face, but those of no material. */
  elements: ElementHeat[]
  wall: WallHeat | null
  boards: BoardHeat | null
  optics: OpticHeat[]
  absent: Partial<Record<'lens' | 'wall' | 'boards', string>>
}

/** Most light, kW/m², where something lies on the lamp's front: on the lens, or on the foremost of the other elements. */
export const onFrontKWm2 = ({ lens, elements }: Pick<PartsHeat, 'lens' | 'elements'>): number =>
  Math.max(lens?.kWm2 ?? 0, elements.at(-1)?.kWm2 ?? 0)

/** Temperature of the face, and its origin in words that follow a colon. */
export interface FaceTemperature {
  faceC: number
  from: string
}

/**
 * Temperatures (°C) of lens, wall, boards and small optics under the lamp's own light, each with its limit; parts
 * without light are in `absent`, in words. Steady state of a patch that loses heat on one side: the hot side.
 * `emitterW`: radiant watts of each emitter, in placeEmitters order; `modelled`: the face's temperature from a heat
 * model, where there is one; `inAir`: hot places in the air of the light that comes back.
 */
export function readParts(
  run: Run,
  lamp: Lamp,
  emitterW: ArrayLike<number>,
  modelled: FaceTemperature | null = null,
  inAir: readonly HotSpot[] = [],
): PartsHeat {
  const discMm = lamp.reading.hotDiscMm
  const face = hottestOnBoards(lamp, onStoppingBoard(lamp, readFaceSpot(run, discMm)), inAir)
  const warm = chooseFaceTemperature(lamp, modelled)
  const all = elementsOf(lamp)
  const mapped = mappedIndex(all)
  const lensSpot = readLensSpot(run, discMm)
  const onLens = lensSpot && readPiece(run, lamp, mapped, lensSpot, warm.faceC)
  const lens = onLens && { ...onLens, spot: lensSpot }
  const wall = readWall(lamp, readWallSpot(run, discMm))
  const absent: PartsHeat['absent'] = {}
  const unmet = (where: string) =>
    run.rays > 0
      ? `None of ${inThousands(run.rays)} rays has met ${where}: less than ${Number((1.05 * unmetKWm2(run, discMm)).toPrecision(2))} kW/m².`
      : `No light reaches ${where}.`
  if (!lens) absent.lens = whyNoLens(mappedElement(lamp), unmet)
  if (!wall) absent.wall = lamp.tunnel ? unmet('the wall') : 'The lamp has no tunnel.'
  if (!face) absent.boards = unmet('the face on its way back')
  const spots = readElementSpots(run, discMm)
  const others = all.flatMap((_, index) => (index === mapped ? [] : [index]))
  const elements = others.flatMap((index, i): ElementHeat[] => {
    const spot = spots[i] ?? null
    const heat = readPiece(run, lamp, index, spot, warm.faceC)
    return heat ? [{ index, ...heat, spot }] : []
  })
  const optics = readOptics(lamp, emitterW, warm.faceC)
  return { lens, elements, wall, boards: face && readBoards(face, warm), optics, absent }
}

/**
 * On the plane of the face and the boards that stop light, or, where boards stand on spacers and wedges, the hottest place in the air as high as they reach, if that is hotter:
 * light is booked on the face's plane, and may come together above it.
 */
function hottestOnBoards(lamp: Lamp, face: HotSpot | null, inAir: readonly HotSpot[]): HotSpot | null {
  const raised = lamp.boards.filter((board) => !liesFlat(board))
  const topMm = raised.reduce((top, board) => Math.max(top, boardSpanMm(lamp, board)[1]), 0)
  const near = raised.length > 0 ? inAir.filter((p) => p.zMm < topMm + p.discMm) : []
  return near.reduce((hot, p) => (hot && upperKWm2(hot) >= upperKWm2(p) ? hot : p), face)
}

/** Upper end at 95 %, kW/m² over a disc (mm), of the light where none of a run's rays has passed: `countUpper` of none, each worth what an emitter sends it with. */
const unmetKWm2 = ({ emittedW, rays }: Pick<Run, 'emittedW' | 'rays'>, discMm: number): number =>
  (countUpper(0) * emittedW * 1000) / (Math.max(1, rays) * Math.PI * (discMm / 2) ** 2)

const whyNoLens = (lens: RowElement | null, unmet: (where: string) => string) =>
  !lens
    ? 'The lamp has no lens.'
    : lens.kind === 'ideal'
      ? 'An ideal lens is of no material.'
      : unmet(elementWords(lens))

/** The hotter of the heat model's and a stated board temperature; with neither the hottest rated junction, which no face can exceed. */
function chooseFaceTemperature(lamp: Lamp, modelled: FaceTemperature | null): FaceTemperature {
  const stated = lamp.heat.kind === 'board' ? { faceC: lamp.heat.boardC, from: 'stated in the document' } : null
  const rated = {
    faceC: placeEmitters(lamp).reduce((most, p) => Math.max(most, p.emitter.ratedJunctionC), 0),
    from: 'no heat model: the rated junction of the emitters',
  }
  const known = [modelled, stated].filter((w) => w !== null)
  const { faceC, from } = known.length > 0 ? known.reduce((a, b) => (b.faceC > a.faceC ? b : a)) : rated
  return { faceC: Math.max(lamp.reading.ambientC, faceC), from }
}

/** Null: of no material. */
function readPiece(
  run: Run,
  lamp: Lamp,
  index: number,
  spot: HotSpot | null,
  faceC: number,
): Omit<LensHeat, 'spot'> | null {
  const piece = elementsOf(lamp)[index]
  const row = piece && materialOfPiece(piece)
  if (!row) return null
  const kWm2 = spot ? upperKWm2(spot) : unmetKWm2(run, lamp.reading.hotDiscMm)
  const { ambientC } = lamp.reading
  const share = absorbedShare(piece, lamp)
  const faceRadiusMm = aboutFaceMm(lamp)
  const gapMm = overBoardsMm(lamp, piece)
  const takes = (takenKWm2: number) => lensOverFaceC({ takenKWm2, ambientC, faceC, gapMm, faceRadiusMm })
  const line = absorbedLine(run, index)
  const absorbed = overBatches(run, (t, _, wPerWeight) => wPerWeight * t[line]!)
  return {
    kWm2,
    name: labelOf(piece),
    material: row.label,
    absorbedShare: share,
    absorbedW: (absorbed.value + T95 * absorbed.se) * ('thicknessMm' in piece ? darker(row, piece.thicknessMm) : 1),
    cleanC: takes(share * kWm2),
    // The dirt's own temperature (`dirtTemperatureC`), unless the face is hotter than it.
    dirtyC: takes(kWm2),
    faceC,
    keepBelowC: row.keepBelowC,
    deflectionC: row.deflectionC,
    source: row.sources.temperature,
  }
}

/** A circle about any face of that size, square or hexagon. */
const aboutFaceMm = ({ face }: Lamp): number => Math.max(face.sizeMm / Math.SQRT2, faceReachMm(face))

/** From the face, or from where the highest raised board's emitters stand, to the nearest point of a piece, mm. */
function overBoardsMm(lamp: Lamp, piece: RowElement): number {
  const raisedMm = placeEmitters(lamp).reduce((most, p) => (p.plain ? most : Math.max(most, p.baseZMm)), 0)
  return Math.max(0, elementSpan(piece)[0] - raisedMm)
}

/** Place in the tally of what an element absorbs: of an assembled lamp its own part, since the fate's line holds all elements. */
function absorbedLine(run: Run, index: number): number {
  const { fateW, partsW } = tallyLayout(run.shape)
  const { parts } = run.shape
  return parts ? partsW + absorbedPart(parts.stretches, index) : fateW + FATES.indexOf('lensAbsorbed')
}

/** What the less clear sample takes in, of what the traced one does: as their absorptions, but no more than all. */
const darker = ({ absorptionHighPerMm: high, absorptionPerMm: low }: LensMaterialRow, thicknessMm: number): number =>
  low > 0 ? Math.min(high / low, 1 / (1 - Math.exp(-low * thicknessMm))) : 1

/**
 * Share of the light that the sheet can take in, of the less clear sample; where absorption is known over wavelengths, the mean over the
 * spectrum of the emitter that it takes most of. Of a film what it neither passes nor sends back.
 */
function absorbedShare(lens: RowElement, lamp: Lamp): number {
  if (lens.kind === 'ideal') return 0
  if (lens.kind === 'diffuser') return Math.max(0, 1 - lens.transmittance - lens.reflectance)
  const absorption = lensAbsorption(lens)
  const index = lensIndex(lens, 550)
  const taken = (perMm: number) => absorbedBySheet(perMm, lens.thicknessMm, index)
  if (typeof absorption === 'number') return taken(materialOfPiece(lens)?.absorptionHighPerMm ?? absorption)
  const used = new Set(placeEmitters(lamp).map((p) => p.emitter))
  return [...used].reduce((most, emitter) => {
    const { spectrum, rays } = emitter
    if (spectrum.kind === 'mono' && !rays?.ownWavelengths)
      return Math.max(most, taken(absorption(spectrum.wavelengthNm)))
    const power = emitterPower(emitter)
    const all = power.reduce((sum, p) => sum + p, 0)
    return Math.max(most, power.reduce((sum, p, i) => sum + p * taken(absorption(380 + 5 * i)), 0) / all)
  }, 0)
}

function readWall(lamp: Lamp, spot: HotSpot | null): WallHeat | null {
  if (!spot || !lamp.tunnel) return null
  const kWm2 = upperKWm2(spot)
  const { ambientC } = lamp.reading
  const absorbedShare = wallTakesIn(lamp, spot.zMm, spot.discMm)
  const cleanC = steadyTemperatureC({ takenKWm2: absorbedShare * kWm2, ambientC })
  return {
    kWm2,
    spot,
    absorbedShare,
    cleanC,
    dirtyC: dirtTemperatureC(kWm2, ambientC),
    limits: LINING_LIMITS.map((l) => ({ ...l, passed: cleanC > l.limitC })),
  }
}

function readBoards(spot: HotSpot, { faceC, from }: FaceTemperature): BoardHeat {
  const kWm2 = upperKWm2(spot)
  const plasticC = dirtTemperatureC(kWm2, faceC)
  return {
    kWm2,
    spot,
    faceC,
    faceFrom: from,
    plasticC,
    plasticSeconds: softenSeconds(kWm2, faceC),
    limit: { ...BOARD_PLASTIC_LIMIT, passed: plasticC > BOARD_PLASTIC_LIMIT.limitC },
  }
}

/** Thin parts that stand off the face start as warm as it is; the thresholds are those of its air. */
function softenSeconds(kWm2: number, faceC: number): number | null {
  const each = thresholds(undefined, faceC)
    .filter((t) => t.id === 'pvc' || t.id === 'black-plastic')
    .map((t) => secondsToHarm(t, kWm2, faceC) ?? Number.POSITIVE_INFINITY)
  const soonest = Math.min(...each)
  return Number.isFinite(soonest) ? soonest : null
}

/** One row for each kind of moulded optic in use, its hottest. */
function readOptics(lamp: Lamp, emitterW: ArrayLike<number>, faceC: number): OpticHeat[] {
  const hottest = new Map<string, OpticHeat>()
  for (const [i, { optic }] of placeEmitters(lamp).entries()) {
    if (optic.kind !== 'collimator') continue
    const takenW = (1 - optic.efficiency) * emitterW[i]!
    const areaM2 = 2 * (Math.PI / 4) * (optic.exitDiameterMm / 1000) ** 2
    const steadyC = steadyTemperatureC({ takenKWm2: takenW / areaM2 / 1000, ambientC: faceC })
    const known = hottest.get(optic.id)
    if (known && known.settlesC >= steadyC) continue
    const limit = { ...OPTIC_LIMIT, passed: steadyC > OPTIC_LIMIT.limitC }
    hottest.set(optic.id, { name: optic.name, takenW, settlesC: steadyC, faceC, limit })
  }
  return [...hottest.values()]
}
