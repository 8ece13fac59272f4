// Rings of boards about the axis, from the outside in, each nested as far out as the ring around it allows.
import type { FillArea, Pose } from './room.ts'
import { isDisc, SLACK_MM } from './room.ts'
import { support } from './shape.ts'

const turnAt = (rad: number) => (rad * 180) / Math.PI

/** From so many boards on, rings of different counts hardly nest: the search is coarser. */
const MANY = 30
/** Up to so many, a ring that is just full is looked for: small sets such as 1 + 6 + 12 hang on it. */
const FEW = 18

/** n boards evenly on a ring, each turned with it. */
function ring(n: number, radiusMm: number, phase: number, turnDeg: number): Pose[] {
  return Array.from({ length: n }, (_, i) => {
    const at = phase + (2 * Math.PI * i) / n
    return { xMm: radiusMm * Math.cos(at), yMm: radiusMm * Math.sin(at), turnDeg: turnDeg + turnAt(at) }
  })
}

/** As many as keep their clearance on a ring. */
function mostOnRing(room: FillArea, radiusMm: number, turnDeg: number): number {
  const need = room.clearanceMm - SLACK_MM / 2
  if (isDisc(room.local)) {
    const half = room.local.radiusMm + need / 2
    return radiusMm < half ? (radiusMm >= 0 ? 1 : 0) : Math.floor(Math.PI / Math.asin(half / radiusMm) + 1e-9)
  }
  const thin = 2 * Math.min(support(room.local, 1, 0), support(room.local, 0, 1))
  for (let n = Math.floor((2 * Math.PI * (radiusMm + thin)) / thin); n >= 2; n--) {
    const [a, b] = ring(n, radiusMm, 0, turnDeg)
    if (room.gap(a!, b!) >= need && (n === 2 || room.gap(a!, ring(n, radiusMm, 0, turnDeg)[2]!) >= need)) return n
  }
  return 1
}

/** Do all of the inner ring keep clear of all of the outer? Only the outer ones near each inner one's direction are looked at. */
function isClear(room: FillArea, inner: readonly Pose[], outer: readonly Pose[], farMm: number): boolean {
  if (outer.length === 0) return true
  const need = room.clearanceMm - SLACK_MM / 2
  const radius = Math.hypot(outer[0]!.xMm, outer[0]!.yMm)
  const step = (2 * Math.PI) / outer.length
  const first = Math.atan2(outer[0]!.yMm, outer[0]!.xMm)
  const reach = Math.min(Math.ceil(farMm / (radius * step)) + 1, outer.length >> 1)
  return inner.every((a) => {
    const at = Math.round((Math.atan2(a.yMm, a.xMm) - first) / step)
    for (let k = at - reach; k <= at + reach; k++) {
      const b = outer[((k % outer.length) + outer.length) % outer.length]!
      if (Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm) < farMm && room.gap(a, b) < need) return false
    }
    return true
  })
}

/** The ring set whose outermost ring has this radius. */
function ringSet(room: FillArea, outerMm: number, turnDeg: number, cap: number): Pose[] {
  const long = 2 * Math.max(...room.local.core.map(([x, y]) => Math.hypot(x, y) + room.local.radiusMm))
  const thin = 2 * Math.min(support(room.local, 1, 0), support(room.local, 0, 1)) + room.clearanceMm
  const poses: Pose[] = []
  let last: Pose[] = []
  let radius = outerMm
  while (poses.length < cap) {
    if (radius < thin / 2) {
      const centre = [{ xMm: 0, yMm: 0, turnDeg }]
      if (isClear(room, centre, last, 2 * long + radius + room.clearanceMm)) poses.push(...centre)
      break
    }
    const next = nestRing(room, radius, last, turnDeg, long + room.clearanceMm)
    if (next.length > 0) {
      poses.push(...next)
      last = next
      radius = Math.hypot(next[0]!.xMm, next[0]!.yMm) - thin * (next.length > MANY ? 0.85 : 0.5)
    } else if (last.length > FEW) radius -= thin * (last.length > MANY ? 0.05 : 0.02)
    else radius = nextRadiusMm(room, radius, thin * 0.02)
  }
  return poses
}

/** The next smaller radius to try; for discs a ring that is just full lies in between. */
function nextRadiusMm(room: FillArea, radiusMm: number, stepMm: number): number {
  if (!isDisc(room.local)) return radiusMm - stepMm
  const n = mostOnRing(room, radiusMm, 0)
  const full = n < 2 ? 0 : (room.local.radiusMm + room.clearanceMm / 2) / Math.sin(Math.PI / n)
  return full > radiusMm - stepMm && full < radiusMm - SLACK_MM ? full : radiusMm - stepMm
}

/** A full ring at this radius, turned so that it clears the one around it; empty when no turn does. */
function nestRing(room: FillArea, radiusMm: number, around: readonly Pose[], turnDeg: number, farMm: number): Pose[] {
  const n = mostOnRing(room, radiusMm, turnDeg)
  if (around.length === 0) return ring(n, radiusMm, 0, turnDeg)
  const tries = around.length > MANY ? 6 : 24
  // Half a step of the ring around, first: there the gaps are.
  const step = (2 * Math.PI) / around.length
  for (let k = 0; k < tries; k++) {
    const poses = ring(n, radiusMm, step * (0.5 + k / tries), turnDeg)
    if (isClear(room, poses, around, farMm)) return poses
  }
  return []
}

/** Ring sets for a few outer radii, whatever of them fits. */
export function* ringFills(room: FillArea, turnDeg: number, cap: number): Generator<Pose[]> {
  const far = support(room.local, 1, 0)
  const rim = room.face.shape === 'round' ? outermostRadiusMm(room) : room.reachMm - far
  const thin = 2 * Math.min(far, support(room.local, 0, 1)) + room.clearanceMm
  const tries = (rim / thin) ** 2 > 400 ? 6 : 16
  for (let k = 0; k < tries; k++) {
    const outerMm = rim - (k / tries) * thin
    if (outerMm < 0) break
    yield ringSet(room, outerMm, turnDeg, 4 * cap).filter((p) => room.fits(p))
  }
}

/** Largest ring on a round face: the outer corners of a board turned with its ring touch the margin. */
function outermostRadiusMm(room: FillArea): number {
  const R = room.face.sizeMm / 2 - room.marginMm - room.local.radiusMm
  let least = R
  for (const [x, y] of room.local.core) least = Math.min(least, Math.sqrt(Math.max(0, R * R - y * y)) - x)
  return least
}
