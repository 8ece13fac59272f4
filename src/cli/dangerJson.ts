// The danger sheet as one JSON object for other programs. Every figure is the upper end of its error.

import { findingsIn } from '../checks/finding.ts'
import type { AirPlace } from '../hazard/air/search.ts'
import { upperKWm2 } from '../hazard/discs.ts'
import { GLASSES } from '../hazard/eyeLimits.ts'
import { type EyeDistances, leadOf } from '../hazard/eyeSheet.ts'
import type { DangerReading } from '../job/danger/result.ts'
import { allInSystem, inSystem } from '../num/quantity.ts'
import { T95 } from '../num/stats.ts'
import type { HotSpot } from '../run/figure.ts'

interface Spot {
  zMm: number
  xMm: number
  yMm: number
  kWm2: number
  discMm: number
}

const spotOf = (s: HotSpot): Spot => ({ zMm: s.zMm, xMm: s.xMm, yMm: s.yMm, kWm2: upperKWm2(s), discMm: s.discMm })

/** With the direction that the light there runs in. */
const facingOf = (p: AirPlace) => ({ ...spotOf(p), towards: [p.dx, p.dy, p.dz] })

/** The foci, preceded by the worst place where that is none of them: the beam may be strongest at the lens itself. */
export function frontFoci({ front, foci }: DangerReading): (Spot & { focus: boolean })[] {
  const all = foci.map((f) => ({ ...spotOf(f), focus: true }))
  const { worst } = front
  if (!worst || all.some((f) => Math.hypot(f.xMm - worst.xMm, f.yMm - worst.yMm, f.zMm - worst.zMm) < 2 * worst.discMm))
    return all.sort((a, b) => b.kWm2 - a.kWm2)
  return [{ ...spotOf(worst), focus: false }, ...all].sort((a, b) => b.kWm2 - a.kWm2)
}

const eyeOf = ({ angleDeg, metres, noLimitM }: EyeDistances) => ({ angleDeg, ...metres, noLimit: noLimitM })

export function dangerJson(d: DangerReading, version: string) {
  const { lens, wall, boards, elements, optics, absent } = d.parts
  return {
    version,
    lamp: d.lamp,
    light: inSystem(d.light, 'metric'),
    seed: d.seed,
    rays: d.rays,
    discMm: d.discMm,
    ambientC: d.ambientC,
    upperEnds: 'at 95 %',
    worstKWm2: d.worstKWm2,
    frontFoci: frontFoci(d),
    worstByDisc: d.worstByDisc.map((v) => ({ discMm: v.discMm, kWm2: upperKWm2(v) })),
    beside: {
      leakedW: d.beside.leakedW,
      worst: d.beside.worst && facingOf(d.beside.worst),
      byDistance: d.beside.curve.map((p) => ({ distanceMm: p.distanceMm, kWm2: upperKWm2(p) })),
    },
    ghost: d.ghost && facingOf(d.ghost),
    clearDistanceMm: Object.fromEntries(d.clear.map((c) => [c.id, c.clearDistanceMm])),
    thresholds: d.clear.map(({ id, name, kWm2, harm, discMm, source, changedFrom, secondsAtWorst, shareAtWorst }) => ({
      ...{ id, name, kWm2, harm, discMm, source, changedFrom, secondsAtWorst, shareAtWorst },
    })),
    harmAt: d.harm,
    inTheWay: allInSystem(d.things, 'metric'),
    onAxis: d.front.curve.map((p) => ({ distanceMm: p.distanceMm, kWm2: p.kWm2 + T95 * p.se, discMm: p.discMm })),
    round: d.volume.round,
    sunWm2: d.sunWm2,
    sunByTilt: d.sunMap.map((p) => ({
      tiltDeg: p.tiltDeg,
      azimuthDeg: p.azimuthDeg,
      ...spotOf(p),
      where: p.lands,
      ...(p.board === null ? {} : { board: p.board }),
      ...(p.flat === null ? {} : { flat: p.flat }),
    })),
    sunPlaces: d.sunPlaces.map((p) => ({
      zone: p.zone,
      tiltDeg: p.tiltDeg,
      azimuthDeg: p.azimuthDeg,
      ...facingOf(p),
      byDisc: p.byDisc.map((v) => ({ discMm: v.discMm, kWm2: upperKWm2(v) })),
    })),
    sunDay: d.sunDay && { ...d.sunDay, moments: d.sunDay.moments.length },
    bareLens: d.bareLens,
    lens: lens && {
      ...heatOf(lens),
      absorbedShare: lens.absorbedShare,
      absorbedW: lens.absorbedW,
      keepBelowC: lens.keepBelowC,
      deflectionC: lens.deflectionC,
    },
    wall: wall && { ...heatOf(wall), absorbedShare: wall.absorbedShare, limits: wall.limits },
    boards: boards && {
      ...spotOf(boards.spot),
      settlesC: boards.plasticC,
      softensSeconds: boards.plasticSeconds,
      faceC: boards.faceC,
      faceFrom: boards.faceFrom,
      limit: boards.limit,
    },
    elements: elements.map(({ name, ...e }) => ({
      name,
      ...(e.spot ? heatOf({ ...e, spot: e.spot }) : { kWm2: e.kWm2, settlesC: e.cleanC, dirtyC: e.dirtyC }),
      absorbedShare: e.absorbedShare,
      absorbedW: e.absorbedW,
      keepBelowC: e.keepBelowC,
      deflectionC: e.deflectionC,
    })),
    optics,
    eye: d.eye && {
      screening: true,
      lead: leadOf(d.eye.distances[0]),
      distancesM: d.eye.distances.map(eyeOf),
      throughGlassesM: { ...GLASSES, ...eyeOf(d.eye.glasses) },
      riskGroup: d.eye.risk,
      visualInterference: d.eye.interference,
      flicker: d.eye.flicker,
      nearest: d.eye.nearest,
      source: d.eye.source,
    },
    coarseSearch: d.coarse,
    absent,
    findings: findingsIn(d.findings, 'metric'),
  }
}

const heatOf = (part: { spot: HotSpot; cleanC: number; dirtyC: number }) => ({
  ...spotOf(part.spot),
  settlesC: part.cleanC,
  dirtyC: part.dirtyC,
})
