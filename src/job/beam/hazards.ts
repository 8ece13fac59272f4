// Hot spots, risks and findings of a sheet.
import { checkDesign, checkSheet } from '../../checks/check.ts'
import { bySeverity } from '../../checks/finding.ts'
import { readElementSpots, readFaceSpot, readLensSpot, readWallSpot } from '../../hazard/discs.ts'
import { FIRST_SHEET_OPTIONS, type Front, searchFront } from '../../hazard/front.ts'
import { readRisks } from '../../hazard/risks.ts'
import { findWorstSun, onStoppingBoard } from '../../hazard/sun.ts'
import { mappedElement } from '../../lamp/assembly.ts'
import { frontZMm } from '../../lamp/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { elementWords } from '../../library/lensSystem.ts'
import type { TimeSliced } from '../../num/scheduler.ts'
import { rayColumns } from '../../run/exits.ts'
import type { Run } from '../../run/types.ts'
import type { HotSpot, HotSpotName, MaterialRisk, Sheet, SunAtTilt } from './sheet.ts'

export interface Hazards {
  hotSpots: Partial<Record<HotSpotName, HotSpot>>
  absent: Partial<Record<HotSpotName, string>>
  /** Of the elements that have maps of their own. */
  elements: (HotSpot | null)[]
  risks: MaterialRisk[]
}

/** A settled run is searched with all the exit rays it has; a rough one with few, to be quick. */
export function* readHazards(run: Run, lamp: Lamp, stage: 'first' | 'next' | 'settled'): TimeSliced<Hazards> {
  const discMm = lamp.reading.hotDiscMm
  const quick = stage === 'first'
  const rays = stage === 'settled' ? { lookRays: 65_536, measureRays: 262_144 } : quick ? FIRST_SHEET_OPTIONS : {}
  const front: Front = yield* searchFront(rayColumns(run, frontZMm(lamp)), { discMm, ...rays })
  const hotSpots: Hazards['hotSpots'] = {}
  const absent: Hazards['absent'] = {}
  const put = (name: HotSpotName, spot: HotSpot | null, why: string) => {
    if (spot) hotSpots[name] = spot
    else absent[name] = why
  }
  yield
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
  put('front', front.worst, 'No light leaves the lamp.')
  return { hotSpots, absent, elements, risks: readRisks(front, lamp.reading.ambientC) }
}

type Bare = Omit<Sheet, 'hotSpots' | 'sun' | 'risks' | 'findings'>

/** The sheet, whole. `sun` is null until it has been traced. */
export function findAll(lamp: Lamp, parts: Bare, hazards: Hazards, sun: SunAtTilt[] | null): Sheet {
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
