// From a run to a sheet. Cheap readers read every time; hot spots are read again when the run has doubled, in front of the lamp where it is asked for.
import { type Beam, readLight } from '../../beam/beam.ts'
import {
  readElementMaps,
  readFaceEvenness,
  readFaceMap,
  readLensEvenness,
  readLensMap,
  readWallMap,
} from '../../beam/evenness.ts'
import { type InverseSquare, readInverseSquare } from '../../beam/inverseSquare.ts'
import { readLedger } from '../../beam/ledger.ts'
import { readPartLedger } from '../../beam/partLedger.ts'
import { isCellWider } from '../../beam/peak.ts'
import { readSphereMap } from '../../beam/sphereMap.ts'
import { readTarget, type TargetReading } from '../../beam/target.ts'
import { windowCellRad } from '../../beam/windowMap.ts'
import { ASKED_FOR } from '../../engine/choice.ts'
import type { BackwardEstimate } from '../../engine/progressive.ts'
import type { Front } from '../../hazard/front.ts'
import { labelOf, mappedElement, unmappedElements } from '../../lamp/assembly.ts'
import { frontZMm } from '../../lamp/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { emittedColour } from '../../library/emittedColour.ts'
import type { TimeSliced } from '../../num/scheduler.ts'
import { T95 } from '../../num/stats.ts'
import { fold } from '../../run/batches.ts'
import type { Run } from '../../run/types.ts'
import { lightTraced } from '../power/light.ts'
import type { AimEstimate, Forward } from './aims.ts'
import { readBeamColour } from './colour.ts'
import { type BareSheet, type FrontSearch, findAll, foundElsewhere, type Hazards, readHazards } from './hazards.ts'
import { joinBackward } from './joinBackward.ts'
import { readReached } from './settling.ts'
import type { Paths, Sheet, SunAtTilt, Variant } from './sheet.ts'

export interface ReadState {
  seconds: number
  settled: boolean
  /** False: the place in front, which takes the longest, stays as an earlier reading has it, unless there is none or the run has settled. Default true. */
  search?: boolean
  /** Null until the sun has been traced. */
  sun: SunAtTilt[] | null
  /** The lamp without its parts, so far. */
  variants: Variant[]
  /** Axial intensity by backward tracing, so far. */
  axis: BackwardEstimate | null
  /** Wanted ± of the axis, a share at 95 %; 0: none. */
  wanted: number
  /** Backward estimates of other aims, so far. */
  aims: AimEstimate[]
  engine: Sheet['engine']
  engineWhy?: string
}

/** What every sheet of a trace says besides what was traced. Plain data. */
export interface SheetHeader extends Pick<Sheet, 'seed' | 'threads' | 'light' | 'emittedColour'> {}

/** `fluxLm`: what each emitter was traced with. */
export const sheetHeader = (lamp: Lamp, fluxLm: ArrayLike<number>, seed: number, threads: number): SheetHeader => ({
  seed,
  threads,
  light: lightTraced(lamp),
  emittedColour: emittedColour(lamp, fluxLm),
})

export interface Reader {
  /** The light by itself, as the rays from the emitters have it. */
  forward(run: Run): TimeSliced<Forward>
  /** In slices: the page's next edit must not wait for a reading. */
  read(run: Run, state: ReadState): TimeSliced<Sheet>
  /** What takes the longest of that, and the figures that come of it. */
  figures(run: Run, state: ReadState): TimeSliced<Sheet['figures']>
  /** The first sheet, of so many rays, is read elsewhere. */
  leaveFirst(rays: number): void
  /** The place in front as it was found there. */
  takeFront(front: Front): void
  /** The settled one, by the run's exit rays, all that it will have. */
  takeSettledFront(found: Front, run: Run): void
  front(): Front | null
  /** Rays of the latest search in front; 0 before it. */
  searchedAt(): number
}

/** Below this many rays, or above this ± on the axis, a sheet calls itself rough. */
const ROUGH_RAYS = 200_000
const ROUGH_SHARE = 0.1
const LATER = 'It is read from the second sheet on.'
const CANT = 'It can’t be read from this run.'

export function makeReader(lamp: Lamp, header: SheetHeader, paths: () => Paths): Reader {
  let known: { run: Run; forward: Forward } | null = null
  /** Rays of the first sheet. */
  let firstOf: number | null = null
  let searched: Searched | null = null
  let elsewhere: FrontSearch | undefined
  let light: { of: readonly unknown[]; parts: LightParts } | null = null
  let read: { of: readonly unknown[]; parts: RunParts } | null = null

  function* forwardOf(run: Run): TimeSliced<Forward> {
    if (known?.run === run && known.forward.rays === run.rays) return known.forward
    const beam = readLight(run, lamp)
    yield
    const forward = { run, rays: run.rays, beam, target: readTarget(run, lamp) }
    known = { run, forward }
    return forward
  }

  function* searchedOf(run: Run, { settled, search = true }: ReadState, first: boolean): TimeSliced<Searched> {
    const before = searched
    const keepsFront = before !== null && !settled && !(search && run.rays >= 2 * before.frontOf)
    const isKnown = before !== null && run.rays < 2 * before.rays && (before.settled || keepsFront)
    if (isKnown) return before
    const stage = settled ? 'settled' : first ? 'first' : 'next'
    // What takes no search in front is the same as long as no ray has come.
    const sameRays = before?.rays === run.rays
    const inverse = sameRays ? before.inverse : null
    searched = {
      ...{ rays: run.rays, settled, frontOf: keepsFront ? before.frontOf : run.rays },
      hazards: yield* readHazards(run, lamp, stage, before?.hazards, { keepsFront, sameRays, elsewhere }),
      inverse: first ? null : (inverse ?? readInverseSquare(run, frontZMm(lamp))),
    }
    return searched
  }

  /** Made once for the rays that there are: the settled dangers come later. */
  function* lightOf(run: Run, { axis, aims }: ReadState, first: boolean): TimeSliced<LightParts> {
    const forward = yield* forwardOf(run)
    const of = [run, run.rays, axis, aims, first]
    if (light && isSame(light.of, of)) return light.parts
    const { beam, target, forwardBackward } = joinBackward(forward, axis, aims)
    yield
    const evenness = readEvenness(run, lamp, first)
    yield
    const parts = {
      ...{ beam, target, evenness },
      isRough: isRough(run, beam),
      sheet: {
        exitsFrom: run.exits.fromRays,
        forwardBackward,
        floors: beam.floors,
        ledger: readLedger(run, beam.angles),
        ...(run.shape.parts ? { parts: readPartLedger(run, lamp) } : {}),
        profile: beam.profile,
        directionMap: beam.directionMap,
        sphereMap: readSphereMap(fold(run)),
        beamColour: readBeamColour(run),
        targetMap: target.map,
        lensMap: readLensMap(run),
        ...mappedPiece(run, lamp),
        wallMap: readWallMap(run),
        faceMap: readFaceMap(run),
        patterned: beam.patterned,
        peakAt: beam.peakAt,
        ...wideCells(run, beam),
      },
    }
    light = { of, parts }
    return parts
  }

  /** Made once while nothing that it is read from has changed: sun and comparisons come later. */
  function* partsOf(run: Run, state: ReadState): TimeSliced<RunParts> {
    const { settled, axis, aims } = state
    // The first sheet is for a drag: what it can do without waits for the next reading.
    const first = !settled && (firstOf === null || firstOf === run.rays)
    if (first) firstOf = run.rays
    yield* forwardOf(run)
    const { hazards, inverse } = yield* searchedOf(run, state, first)
    const of = [run, run.rays, axis, aims, hazards, first]
    if (read && isSame(read.of, of)) return read.parts
    const { isRough, sheet, ...known } = yield* lightOf(run, state, first)
    const parts = {
      ...{ isRough, hazards },
      sheet: { ...sheet, ...gather(known, inverse), ...elementLight(run, lamp, hazards) },
    }
    read = { of, parts }
    return parts
  }

  return {
    forward: forwardOf,
    leaveFirst(rays) {
      firstOf = rays
    },
    takeFront(front) {
      // The rest is read with the next sheet.
      searched = { rays: 0, settled: false, frontOf: firstOf ?? 0, hazards: foundElsewhere(front), inverse: null }
    },
    takeSettledFront(found, { exits }) {
      elsewhere = { found, stage: 'settled', exits }
    },
    front: () => searched?.hazards.front.found ?? null,
    searchedAt: () => searched?.frontOf ?? 0,
    *figures(run, state) {
      const { sheet } = yield* partsOf(run, state)
      return sheet.figures
    },
    *read(run, state) {
      const { isRough, hazards, sheet } = yield* partsOf(run, state)
      const finished: Sheet['state'] = state.settled ? 'settled' : isRough ? 'rough' : 'settling'
      const parts = {
        lamp: lamp.name,
        ...header,
        rays: run.rays,
        seconds: state.seconds,
        raysPerSecond: state.seconds > 0 ? run.rays / state.seconds : 0,
        engine: state.engine,
        engineWhy: state.engineWhy ?? ASKED_FOR,
        state: finished,
        reached: readReached(run, state.axis, state.wanted),
        ...sheet,
        variants: compared(run, sheet.figures, state.variants),
        paths: paths(),
      }
      return findAll(lamp, parts, hazards, state.sun)
    },
  }
}

interface Searched {
  rays: number
  settled: boolean
  /** Rays that the place in front was searched with. */
  frontOf: number
  hazards: Hazards
  inverse: InverseSquare | null
}

/** What a sheet has of the run and its backward estimates alone. */
interface RunParts {
  isRough: boolean
  hazards: Hazards
  sheet: Omit<
    BareSheet,
    | keyof SheetHeader
    | 'lamp'
    | 'rays'
    | 'seconds'
    | 'raysPerSecond'
    | 'engine'
    | 'engineWhy'
    | 'state'
    | 'reached'
    | 'variants'
    | 'paths'
  >
}

/** That of it which takes no search of places. */
interface LightParts extends Pick<RunParts, 'isRough'> {
  beam: Beam
  target: TargetReading
  evenness: Read
  sheet: Omit<RunParts['sheet'], 'figures' | 'absent' | 'elements'>
}

type Read = Pick<Sheet, 'figures' | 'absent'>

const isSame = (a: readonly unknown[], b: readonly unknown[]): boolean => a.every((one, i) => one === b[i])

function mappedPiece({ shape }: Run, lamp: Lamp): Pick<Sheet, 'mapped'> {
  const piece = mappedElement(lamp)
  const frame = shape.lens?.frame
  return piece && frame ? { mapped: { name: labelOf(piece), kind: piece.kind, frame } } : {}
}

function elementLight(run: Run, lamp: Lamp, hazards: Hazards): Pick<Sheet, 'elements'> {
  const maps = readElementMaps(run)
  if (maps.length === 0) return {}
  return {
    elements: unmappedElements(lamp).flatMap((piece, i) => {
      const [map, frame] = [maps[i], run.shape.elements?.maps[i]?.frame]
      return map && frame
        ? [{ name: labelOf(piece), kind: piece.kind, frame, map, spot: hazards.elements[i] ?? null }]
        : []
    }),
  }
}

/** The lamp as designed comes first. */
const compared = ({ rays }: Run, figures: Sheet['figures'], without: Variant[]): Variant[] =>
  without.length > 0 ? [{ name: 'as designed', figures, rays }, ...without] : []

const wideCells = ({ shape }: Run, { peakCellDeg }: Beam): Pick<Sheet, 'wideCells'> =>
  isCellWider(shape)
    ? { wideCells: { deg: (windowCellRad(shape) * 180) / Math.PI, peak: peakCellDeg !== undefined } }
    : {}

function isRough(run: Run, beam: Beam): boolean {
  const axial = beam.figures.axialIntensityCd
  return run.rays < ROUGH_RAYS || (axial !== undefined && T95 * axial.se > ROUGH_SHARE * axial.value)
}

function gather(
  { beam, target, evenness }: Pick<LightParts, 'beam' | 'target' | 'evenness'>,
  inverse: InverseSquare | null,
): Read {
  const figures: Read['figures'] = { ...beam.figures, ...target.figures }
  const absent: Read['absent'] = { ...beam.absent, ...target.absent }
  if (inverse?.figure) figures.inverseSquareFromM = inverse.figure
  else absent.inverseSquareFromM = inverse ? (inverse.absent ?? CANT) : LATER
  return { figures: { ...figures, ...evenness.figures }, absent: { ...absent, ...evenness.absent } }
}

function readEvenness(run: Run, lamp: Lamp, first: boolean): Read {
  const figures: Read['figures'] = {}
  const absent: Read['absent'] = {}
  for (const part of ['lens', 'face'] as const) {
    const reading = first
      ? { absent: LATER }
      : part === 'lens'
        ? readLensEvenness(run, lamp)
        : readFaceEvenness(run, lamp)
    const why = reading.absent ?? CANT
    if ('evenness' in reading && reading.evenness) figures[`${part}Evenness`] = reading.evenness
    else absent[`${part}Evenness`] = why
    if ('variation' in reading && reading.variation) figures[`${part}Variation`] = reading.variation
    else absent[`${part}Variation`] = why
  }
  return { figures, absent }
}
