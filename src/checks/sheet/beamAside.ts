// A beam that is thrown aside: what is read about the lamp's axis then says little of it.
import { elementsOf, isStraight } from '../../lamp/assembly.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { elementWords } from '../../library/lensSystem.ts'
import { T95 } from '../../num/stats.ts'
import type { Finding, Place } from '../finding.ts'
import { arrayDiameterMm, emissionPoints } from '../optics.ts'
import type { SheetParts } from '../parts.ts'
import { counted, deg, degUp, mm, percent } from '../words.ts'

/** With less than half of the peak the axis lies outside the beam, as beam angles are defined. */
const OUTSIDE = 0.5
/** As good as along the axis. */
const STRAIGHT_DEG = 1
/** So many boards are named one by one. */
const FEW = 3

interface Cause {
  words: string
  place: Place
}

export function beamAside(lamp: Lamp, { figures, peakAt }: SheetParts): Finding[] {
  const [axis, peak] = [figures['axialIntensityCd'], figures['peakIntensityCd']]
  if (!peakAt || !axis || !peak || !(peak.value > 0) || peakAt.around || peakAt.thetaDeg < STRAIGHT_DEG) return []
  if (axis.value + T95 * axis.se >= OUTSIDE * (peak.value - T95 * peak.se)) return []
  const causes = causesOf(lamp)
  const [first] = causes
  if (!first) return []
  return [
    {
      rule: 'beam-aside',
      severity: 'warning',
      title: `The peak lies ${deg(peakAt.thetaDeg)} off the axis, towards ${deg(Math.round(peakAt.azimuthDeg + 360) % 360)} from +x: the axis has ${percent(axis.value / peak.value)} of it, so figures about the axis mean little.`,
      why: `Axial intensity, beam and field angle, half-flux angles and the target’s middle are taken about the lamp’s axis. Here ${causes.map((c) => c.words).join('; ')}.`,
      cure: 'If it is meant, turn the lamp’s axis to where its beam goes before you read these. Else tilt, aim or move the parts so that they balance.',
      place: first.place,
    },
  ]
}

/** What can throw a beam aside. */
function causesOf(lamp: Lamp): Cause[] {
  const boards = lamp.boards.map(({ id, wedge, aim, siteAims }, boardIndex) => ({
    ...{ id, boardIndex, tilt: Math.abs(wedge?.tiltDeg ?? 0) },
    aim: Math.max(...[aim, ...Object.values(siteAims ?? {})].map((a) => (a ? Math.hypot(a.xDeg, a.yDeg) : 0))),
  }))
  const byAngle = (of: 'tilt' | 'aim', one: string, many: string): Cause[] => {
    const some = boards.filter((b) => b[of] >= STRAIGHT_DEG).sort((a, b) => b[of] - a[of])
    const [most] = some
    if (!most) return []
    const words =
      some.length > FEW
        ? `${counted(some.length, 'board')} ${many} up to ${degUp(most[of])}`
        : some.map((b) => `${b.id} ${one} ${deg(b[of])}`).join(', ')
    return [{ words, place: { kind: 'board', boardIndex: most.boardIndex } }]
  }
  return [
    ...byAngle('tilt', 'is tilted by', 'are tilted by'),
    ...byAngle('aim', 'has optics aimed by', 'have optics aimed by'),
    ...aimedAt(lamp),
    ...elementsAside(lamp),
    ...arrayAside(lamp),
  ]
}

function aimedAt({ aimAt }: Lamp): Cause[] {
  if (!aimAt) return []
  const aside = (Math.atan2(Math.hypot(aimAt.xMm, aimAt.yMm), 1000 * aimAt.distanceM) * 180) / Math.PI
  if (aside < STRAIGHT_DEG) return []
  return [
    { words: `all optics are aimed at a point ${deg(aside)} off the axis`, place: { kind: 'part', part: 'optics' } },
  ]
}

function elementsAside(lamp: Lamp): Cause[] {
  const aside = elementsOf(lamp).filter((e) => {
    const { turnDeg: _, ...placed } = e
    const cut = 'centreXMm' in e || 'centreYMm' in e ? Math.hypot(e.centreXMm ?? 0, e.centreYMm ?? 0) : 0
    return e.kind !== 'diffuser' && e.kind !== 'cover' && (!isStraight(placed) || cut > 0)
  })
  return aside.map((e) => ({
    words: `${elementWords(e)} stands tilted, moved, or is cut beside its optical centre`,
    place: { kind: 'part', part: 'lens' },
  }))
}

/** Emitters whose middle lies further from the axis than half of the array is wide. */
function arrayAside(lamp: Lamp): Cause[] {
  const all = emissionPoints(lamp)
  if (all.length === 0) return []
  const mean = (of: 'xMm' | 'yMm') => all.reduce((sum, s) => sum + s[of], 0) / all.length
  const aside = Math.hypot(mean('xMm'), mean('yMm'))
  if (aside < arrayDiameterMm(all) / 4) return []
  return [
    { words: `the emitters’ middle lies ${mm(aside)} beside the axis`, place: { kind: 'part', part: 'emitters' } },
  ]
}
