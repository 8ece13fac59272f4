// Before the lamp, inside it, beside or behind it: where a place in the air lies.
import { isRectangle } from '../../lamp/assembly.ts'
import { widestReachMm } from '../../lamp/body.ts'
import { frontZMm } from '../../lamp/front.ts'
import type { Lamp } from '../../lamp/schema.ts'
import { makeRadiusAt, widestTunnelMm } from '../../lamp/section.ts'

export const AIR_ZONES = ['front', 'inside', 'outside'] as const
export type AirZone = (typeof AIR_ZONES)[number]

/**
 * Which zone a point (mm, lamp frame) lies in, by its index in AIR_ZONES. Front: beyond the foremost plane. Inside: between the face's
 * plane and the front within the tunnel, and, where there is none, within the straight line from the face's edge to the lens's; and half a
 * disc beyond, so that a disc outside meets no light that runs inside.
 */
export function makeZoneOf(
  lamp: Lamp,
  discMm = lamp.reading.hotDiscMm,
): (xMm: number, yMm: number, zMm: number) => number {
  const front = frontZMm(lamp)
  const face = lamp.face.sizeMm / 2
  const lens = widestReachMm(lamp) ?? face
  const { tunnel } = lamp
  const half = discMm / 2
  const inTunnel = tunnel && makeRadiusAt(tunnel)
  const radiusAt = (z: number): number => {
    if (!inTunnel) return face + ((lens - face) * z) / Math.max(1, front)
    if (z <= tunnel.zInMm) return Math.max(face, inTunnel(z))
    if (z >= tunnel.zOutMm) return Math.max(lens, inTunnel(z))
    return inTunnel(z)
  }
  // A polygon's corners stand further out than half its size across flats.
  const corner = tunnel && tunnel.sides > 0 && !isRectangle(tunnel) ? 1 / Math.cos(Math.PI / tunnel.sides) : 1
  return (x, y, z) => {
    if (z > front) return 0
    if (z < -half) return 2
    const within = radiusAt(Math.max(0, z)) * corner + half
    return x * x + y * y <= within * within ? 1 : 2
  }
}

/**
 * The ball that is searched: about the middle of the lamp, `aroundMm` wider than the lamp itself. Light that leaves where it shouldn't is
 * followed to a sphere of 1 m (physics.md, section 9).
 */
export function searchedBall(lamp: Lamp, aroundMm: number): { centre: [number, number, number]; radiusMm: number } {
  const front = frontZMm(lamp)
  const widest = Math.max(lamp.face.sizeMm, widestTunnelMm(lamp.tunnel), 2 * (widestReachMm(lamp) ?? 0))
  return { centre: [0, 0, front / 2], radiusMm: Math.hypot(front, widest) / 2 + aroundMm }
}
