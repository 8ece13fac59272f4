// Hot spots, risks and findings of a sheet.
import { checkDesign, checkSheet } from '../../checks/check.ts'
import { bySeverity } from '../../checks/finding.ts'
import { readElementSpots, readFaceSpot, readLensSpot, readWallSpot } from '../../hazard/discs.ts'
import { FIRST_SHEET_OPTIONS, type Front, type FrontOptions, searchFront } from '../../hazard/front.ts'
import { readRisks } from '../../hazard/risks.ts'
import { findWorstSun, onStoppingBoard } from '../../hazard/sun.ts'
import { mappedElement } from '../../lamp/assembly.ts'
import { frontZMm } from '../../lamp/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { elementWords } from '../../library/lensSystem.ts'
import type { TimeSliced } from '../../num/scheduler.ts'
import { type RayColumns, rayColumns } from '../../run/exits.ts'
import type { Run } from '../../run/types.ts'
import type { HotSpot, HotSpotName, MaterialRisk, Sheet, SunAtTilt } from './sheet.ts'

export interface Hazards extends PartSpots {
  risks: MaterialRisk[]
  front: FrontSearch
  onParts: PartSpots | null
}

/** Hot spots, of which those on the parts follow from the tallies alone. */
interface PartSpots {
  hotSpots: Partial<Record<HotSpotName, HotSpot>>
  absent: Partial<Record<HotSpotName, string>>
  /** Of the elements that have maps of their own. */
  elements: (HotSpot | null)[]
}

type Stage = 'first' | 'next' | 'settled'

/** The place in front and the exit rays that it was searched in. */
export interface FrontSearch {
  found: Front
  stage: Stage
  exits: Run['exits']
}

interface ReadAgain {
  keepsFront?: boolean
  sameRays?: boolean
  elsewhere?: FrontSearch | undefined
}

/**
 * A settled run is searched with all the exit rays it has; a rough one with few, to be quick. `before`: of the same run with fewer rays. The place in
 * front is its own while there are no more exit rays: a run keeps no more than so many. `keepsFront`: it is in any case. `sameRays`: the run hasn't
 * grown since then, so that what lies on the parts is the same. `elsewhere`: searched by another thread.
 */
export function* readHazards(
  run: Run,
  lamp: Lamp,
  stage: Stage,
  before?: Hazards,
  { keepsFront = false, sameRays = false, elsewhere }: ReadAgain = {},
): TimeSliced<Hazards> {
  const known =
    keepsFront && before ? before.front : (isSearched(before?.front, run, stage) ?? isSearched(elsewhere, run, stage))
  const search = known ?? (yield* searchInFront(run, lamp, stage))
  const front = search.found
  yield
  const quick = stage === 'first'
  const spots = sameRays && !quick ? before?.onParts : null
  const onParts = spots ?? (yield* readPartSpots(run, lamp, quick))
  const { worst } = front
  return {
    hotSpots: { ...onParts.hotSpots, ...(worst && { front: worst }) },
    absent: { ...onParts.absent, ...(!worst && { front: 'No light leaves the lamp.' }) },
    elements: onParts.elements,
    risks: readRisks(front, lamp.reading.ambientC),
    front: search,
    onParts: quick ? null : onParts,
  }
}

function* readPartSpots(run: Run, lamp: Lamp, quick: boolean): TimeSliced<PartSpots> {
  const discMm = lamp.reading.hotDiscMm
  const hotSpots: PartSpots['hotSpots'] = {}
  const absent: PartSpots['absent'] = {}
  const put = (name: HotSpotName, spot: HotSpot | null, why: string) => {
    if (spot) hotSpots[name] = spot
    else absent[name] = why
  }
  const lit = mappedElement(lamp)
  put(
    'lens',
    readLensSpot(run, discMm, quick),
    lit ? `No light reaches ${elementWords(lit)}.` : 'The lamp has no lens.',
  )
  yield
  const elements = readElementSpots(run, discMm, quick)
  if (elements.length > 0) yield
  put('wall', readWallSpot(run, discMm, quick), lamp.tunnel ? 'No light reaches the wall.' : 'The lamp has no tunnel.')
  yield
  put('face', onStoppingBoard(lamp, readFaceSpot(run, discMm, quick)), 'No light comes back to the face.')
  return { hotSpots, absent, elements }
}

/** Of a run whose first sheet another thread has read: the place in front alone. */
export const foundElsewhere = (found: Front): Hazards => ({
  ...{ hotSpots: {}, absent: {}, elements: [], risks: [], onParts: null },
  front: {
    found,
    stage: 'first',
    exits: { count: 0, fromRays: 0, data: new Float32Array(0), batch: new Uint8Array(0) },
  },
})

const OPTIONS: Record<Stage, Omit<FrontOptions, 'discMm'>> = {
  first: FIRST_SHEET_OPTIONS,
  // Replaced within seconds: planes as far apart as a focus found on one of them can be climbed to from it.
  next: { ratio: 1.12 },
  settled: { lookRays: 65_536, measureRays: 262_144 },
}

/** What a settled sheet's search takes. */
export const settledSearch = (run: Run, lamp: Lamp): { rays: RayColumns; options: FrontOptions } => ({
  rays: rayColumns(run, frontZMm(lamp)),
  options: { discMm: lamp.reading.hotDiscMm, ...OPTIONS.settled },
})

const isSearched = (front: FrontSearch | undefined, { exits }: Run, stage: Stage): FrontSearch | null =>
  front?.exits === exits && front.stage === stage ? front : null

function* searchInFront(run: Run, lamp: Lamp, stage: Stage): TimeSliced<FrontSearch> {
  const options = { discMm: lamp.reading.hotDiscMm, ...OPTIONS[stage] }
  return { found: yield* searchFront(rayColumns(run, frontZMm(lamp)), options), stage, exits: run.exits }
}

/** Without its hot spots and findings. */
export type BareSheet = Omit<Sheet, 'hotSpots' | 'sun' | 'risks' | 'findings'>

/** The sheet, whole. `sun` is null until it has been traced. */
export function findAll(lamp: Lamp, parts: BareSheet, hazards: Hazards, sun: SunAtTilt[] | null): Sheet {
  const hotSpots = { ...hazards.hotSpots }
  const absent = { ...parts.absent, ...hazards.absent }
  const worst = findWorstSun(sun ?? [])
  if (worst) {
    const { kWm2, se, xMm, yMm, zMm, discMm } = worst
    hotSpots.sunInside = { kWm2, se, xMm, yMm, zMm, discMm }
  } else absent.sunInside = sun ? 'No sunlight comes in.' : 'The sun is still being traced.'
  const whole = { ...parts, absent, hotSpots, sun: sun ?? [], risks: hazards.risks, findings: [] }
  return { ...whole, findings: bySeverity([...checkDesign(lamp), ...checkSheet(lamp, whole)]) }
}
