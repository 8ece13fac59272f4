// Rings of boards about the axis, from the outside in, each nested as far out as the ring around it allows.
import type { FillArea, Pose } from './fillArea.ts'
import { isDisc, SLACK_MM } from './fillArea.ts'
import { type Shape, support } from './shape.ts'

const turnAt = (rad: number) => (rad * 180) / Math.PI

/** From so many boards on, rings of different counts hardly nest: the search is coarser. */
const MANY = 30
/** Up to so many, a ring that is just full is searched: small sets such as 1 + 6 + 12 depend on it. */
const FEW = 18

/** Twice the lesser reach from the board's origin along its axes; of an outline beside its origin, its lesser width. */
function thinMm(shape: Shape): number {
  const [right, up] = [support(shape, 1, 0), support(shape, 0, 1)]
  const [left, down] = [support(shape, -1, 0), support(shape, 0, -1)]
  const isCentred = Math.abs(right - left) < 1e-9 && Math.abs(up - down) < 1e-9
  return isCentred ? 2 * Math.min(right, up) : Math.min(right + left, up + down)
}

/** n boards evenly on a ring, each turned with it. */
function ring(n: number, radiusMm: number, phase: number, turnDeg: number): Pose[] {
  return Array.from({ length: n }, (_, i) => {
    const at = phase + (2 * Math.PI * i) / n
    return { xMm: radiusMm * Math.cos(at), yMm: radiusMm * Math.sin(at), turnDeg: turnDeg + turnAt(at) }
  })
}

/** As many as keep their clearance on a ring. */
function mostOnRing(area: FillArea, radiusMm: number, turnDeg: number): number {
  const need = area.clearanceMm - SLACK_MM / 2
  if (isDisc(area.local)) {
    const half = area.local.radiusMm + need / 2
    return radiusMm < half ? (radiusMm >= 0 ? 1 : 0) : Math.floor(Math.PI / Math.asin(half / radiusMm) + 1e-9)
  }
  const thin = thinMm(area.local)
  for (let n = Math.floor((2 * Math.PI * (radiusMm + thin)) / thin); n >= 2; n--) {
    const [a, b] = ring(n, radiusMm, 0, turnDeg)
    if (area.gap(a!, b!) >= need && (n === 2 || area.gap(a!, ring(n, radiusMm, 0, turnDeg)[2]!) >= need)) return n
  }
  return 1
}

/** Do all of the inner ring keep clear of all of the outer? Only the outer ones near each inner one's direction are compared. */
function isClear(area: FillArea, inner: readonly Pose[], outer: readonly Pose[], farMm: number): boolean {
  const [one] = outer
  if (!one) return true
  const need = area.clearanceMm - SLACK_MM / 2
  const radius = Math.hypot(one.xMm, one.yMm)
  const step = (2 * Math.PI) / outer.length
  const first = Math.atan2(one.yMm, one.xMm)
  const reach = Math.min(Math.ceil(farMm / (radius * step)) + 1, outer.length >> 1)
  return inner.every((a) => {
    const at = Math.round((Math.atan2(a.yMm, a.xMm) - first) / step)
    for (let k = at - reach; k <= at + reach; k++) {
      const b = outer[((k % outer.length) + outer.length) % outer.length]!
      if (Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm) < farMm && area.gap(a, b) < need) return false
    }
    return true
  })
}

/** The ring set whose outermost ring has this radius. */
function ringSet(area: FillArea, outerMm: number, turnDeg: number, cap: number): Pose[] {
  const long = 2 * Math.max(...area.local.core.map(([x, y]) => Math.hypot(x, y) + area.local.radiusMm))
  const thin = thinMm(area.local) + area.clearanceMm
  const poses: Pose[] = []
  let last: Pose[] = []
  let radius = outerMm
  while (poses.length < cap) {
    if (radius < thin / 2) {
      const centre = [{ xMm: 0, yMm: 0, turnDeg }]
      if (isClear(area, centre, last, 2 * long + radius + area.clearanceMm)) poses.push(...centre)
      break
    }
    const next = nestRing(area, radius, last, turnDeg, long + area.clearanceMm)
    const [one] = next
    if (one) {
      poses.push(...next)
      last = next
      radius = Math.hypot(one.xMm, one.yMm) - thin * (next.length > MANY ? 0.85 : 0.5)
    } else if (last.length > FEW) radius -= thin * (last.length > MANY ? 0.05 : 0.02)
    else radius = nextRadiusMm(area, radius, thin * 0.02)
  }
  return poses
}

/** The next smaller radius to try; for discs a ring that is just full lies in between. */
function nextRadiusMm(area: FillArea, radiusMm: number, stepMm: number): number {
  if (!isDisc(area.local)) return radiusMm - stepMm
  const n = mostOnRing(area, radiusMm, 0)
  const full = n < 2 ? 0 : (area.local.radiusMm + area.clearanceMm / 2) / Math.sin(Math.PI / n)
  return full > radiusMm - stepMm && full < radiusMm - SLACK_MM ? full : radiusMm - stepMm
}

/** A full ring at this radius, turned so that it clears the one around it; empty when no turn does. */
function nestRing(area: FillArea, radiusMm: number, around: readonly Pose[], turnDeg: number, farMm: number): Pose[] {
  const n = mostOnRing(area, radiusMm, turnDeg)
  if (around.length === 0) return ring(n, radiusMm, 0, turnDeg)
  const tries = around.length > MANY ? 6 : 24
  // Half a step of the ring around, first: there the gaps are.
  const step = (2 * Math.PI) / around.length
  for (let k = 0; k < tries; k++) {
    const poses = ring(n, radiusMm, step * (0.5 + k / tries), turnDeg)
    if (isClear(area, poses, around, farMm)) return poses
  }
  return []
}

/** Ring sets for a few outer radii, whatever of them fits. */
export function* ringFills(area: FillArea, turnDeg: number, cap: number): Generator<Pose[]> {
  const far = support(area.local, 1, 0)
  const rim = area.face.shape === 'round' ? outermostRadiusMm(area) : area.reachMm - far
  const thin = thinMm(area.local) + area.clearanceMm
  const tries = (rim / thin) ** 2 > 400 ? 6 : 16
  for (let k = 0; k < tries; k++) {
    const outerMm = rim - (k / tries) * thin
    if (outerMm < 0) break
    yield ringSet(area, outerMm, turnDeg, 4 * cap).filter((p) => area.fits(p))
  }
}

/** Largest ring on a round face: the outer corners of a board turned with its ring touch the margin. */
function outermostRadiusMm(area: FillArea): number {
  const R = area.face.sizeMm / 2 - area.marginMm - area.local.radiusMm
  let least = R
  for (const [x, y] of area.local.core) least = Math.min(least, Math.sqrt(Math.max(0, R * R - y * y)) - x)
  return least
}
