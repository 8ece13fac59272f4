// Planted places of the sun's light: the focus at f behind the lens in the direction of the light, its images in mirrors, and the ghosts
// that the lens's own surfaces throw back.
import type { Lens, Tunnel } from '../../src/lamp/schema.ts'
import { fresnelLens, idealLens, innerGhostMm, lampOf, type Parts, solidLens } from './document.ts'
import type { Draw, PlantedLamp, Zone } from './lamps.ts'
import { sunwards } from './light.ts'
import type { Dice } from './random.ts'
import type { Vec } from './ray.ts'
import type { Planted } from './truth.ts'

const RAD = Math.PI / 180
const DEG = 180 / Math.PI

function sunLens(d: Dice, zMm: number, focalMm: number, diameterMm: number): Lens {
  const kind = d.pick(['ideal', 'fresnel', 'fresnel', 'solid'])
  if (kind === 'ideal') return idealLens(zMm, focalMm, diameterMm)
  if (kind === 'solid') return solidLens(zMm, focalMm, diameterMm, d.pick(['target', 'source']))
  return fresnelLens(d, zMm, focalMm, diameterMm, d.pick(['target', 'target', 'source']))
}

interface Sun {
  tiltDeg: number
  azimuthDeg: number
}

const sunlit = (parts: Omit<Parts, 'kinds' | 'spots'>, sun: Sun, zone: Zone, place: Planted): PlantedLamp => ({
  lamp: lampOf({
    ...parts,
    kinds: [
      { source: { shape: 'disc', diameterMm: 1 }, profile: { kind: 'cosine', fwhmDeg: 120 }, watts: 0.01, heightMm: 0 },
    ],
    spots: [{ xMm: 0, yMm: 0 }],
  }),
  light: { light: 'sun', ...sun },
  zone,
  places: [place],
})

/** The focus of a thin lens in the plane z − f, and the direction of the light. */
function focusOf(lensZMm: number, focalMm: number, { tiltDeg, azimuthDeg }: Sun): { at: Vec; along: Vec } {
  const [x, y, z] = sunwards(tiltDeg, azimuthDeg)
  return { at: [(-focalMm * x) / z, (-focalMm * y) / z, lensZMm - focalMm], along: [-x, -y, -z] }
}

/** Oblique rays of a real lens focus before the paraxial plane, and more widely. */
const around = (focus: { at: Vec; along: Vec }, focalMm: number): Planted => ({
  ...focus,
  acrossMm: 25 + 0.05 * focalMm,
  depthMm: 0.35 * focalMm,
})

const tiltFor = (lateralMm: number, focalMm: number) => Math.atan2(lateralMm, focalMm) * DEG

const mirror = { specularShare: 1, scatterDeg: 0 }

const inside: Draw = (d) => {
  const f = d.between(80, 600)
  const lensMm = Math.round(f * d.between(0.3, 0.8))
  const z = f * d.between(1.2, 1.8)
  const inMm = lensMm * d.between(0.6, 1)
  const sun = { tiltDeg: tiltFor(d.between(0, 0.22) * inMm, f), azimuthDeg: d.between(0, 360) }
  const sizes = { inMm, outMm: lensMm, zInMm: d.pick([0, 8]), zOutMm: z - d.between(8, 20) - 0.2 * lensMm }
  const tunnel: Tunnel = { sides: d.pick([0, 4, 6, 8]), ...sizes, reflectance: d.pick([0, 0.9]), ...mirror }
  const lens = sunLens(d, z, f, lensMm)
  const withTunnel = d.chance(0.7)
  const parts = { name: 'Sun inside', lens, tunnel: withTunnel ? tunnel : null, faceSizeMm: inMm }
  return sunlit(parts, sun, 'inside', around(focusOf(z, f, sun), f))
}

const beside: Draw = (d) => {
  const f = d.between(150, 500)
  const tiltDeg = d.between(18, 35)
  const lateral = f * Math.tan(tiltDeg * RAD)
  const lensMm = Math.round(Math.min(2 * (lateral - 15), d.between(0.3, 0.8) * f))
  const z = f * d.between(1.05, 1.5)
  const sun = { tiltDeg: lateral > 280 ? tiltFor(280, f) : tiltDeg, azimuthDeg: d.between(0, 360) }
  const faceSizeMm = d.between(30, Math.max(40, Math.min(lensMm, 200)))
  const parts = {
    name: 'Sun beside',
    lens: sunLens(d, z, f, lensMm),
    faceSizeMm,
    faceShape: d.pick(['round', 'square', 'hexagon'] as const),
  }
  return sunlit(parts, sun, 'outside', around(focusOf(z, f, sun), f))
}

const behind: Draw = (d) => {
  const f = d.between(250, 700)
  const depth = d.between(30, Math.min(220, 0.6 * f))
  const z = f - depth
  const lensMm = Math.round(f * d.between(0.3, 0.7))
  const faceSizeMm = d.between(20, 70)
  const atFace = d.between(0.6, 2) * faceSizeMm
  const sun = { tiltDeg: tiltFor(atFace, z), azimuthDeg: d.between(0, 360) }
  const parts = { name: 'Sun behind the face', lens: sunLens(d, z, f, lensMm), faceSizeMm }
  return sunlit(parts, sun, 'outside', around(focusOf(z, f, sun), f))
}

const shortTunnel: Draw = (d) => {
  const f = d.between(200, 500)
  const lensMm = Math.round(f * d.between(0.3, 0.55))
  const zOutMm = d.between(0.15, 0.4) * f
  const z = f + d.between(0.1, 0.9) * zOutMm
  const wide = d.between(30, 80)
  const lateral = Math.max(lensMm / 2 + 12, wide / 2 + d.between(12, 60))
  const sun = { tiltDeg: tiltFor(lateral, f), azimuthDeg: d.between(0, 360) }
  const sizes = { inMm: wide, outMm: wide * d.between(0.9, 1.1), zInMm: d.pick([0, 10]), zOutMm }
  const tunnel: Tunnel = { sides: d.pick([0, 0, 4, 6]), ...sizes, reflectance: d.pick([0, 0.9]), ...mirror }
  const parts = { name: 'Sun beside a short tunnel', lens: sunLens(d, z, f, lensMm), tunnel, faceSizeMm: wide }
  return sunlit(parts, sun, 'outside', around(focusOf(z, f, sun), f))
}

/** In by the curved or grooved side, back off the flat one and out again: half the focal length. Off the curved one from within: R/(2n). */
const ghost: Draw = (d) => {
  const f = d.between(250, 1000)
  const lensMm = Math.round(d.between(0.3, 0.6) * f)
  const z = f * d.between(0.6, 1.2)
  const side = d.pick(['target', 'source'] as const)
  const solid = d.chance(0.35)
  const lens = solid ? solidLens(z, f, lensMm, side) : fresnelLens(d, z, f, lensMm, side)
  const focal = side === 'target' ? f / 2 : innerGhostMm(f)
  const sun = { tiltDeg: d.between(0, 15), azimuthDeg: d.between(0, 360) }
  const [x, y, up] = sunwards(sun.tiltDeg, sun.azimuthDeg)
  const top = z + (lens.kind === 'solid' && side === 'source' ? 0 : lens.thicknessMm)
  const at: Vec = [(-focal * x) / up, (-focal * y) / up, top + focal]
  const place = { at, along: [-x, -y, up] as const, acrossMm: 30 + 0.06 * focal, depthMm: 0.5 * focal }
  return sunlit({ name: 'Ghost in front', lens, faceSizeMm: d.between(60, 200) }, sun, 'front', place)
}

/** The focus would lie beyond the wall, which sends it back in: the image in a flat wall, near enough in a round one. */
const mirrored: Draw = (d) => {
  const f = d.between(120, 600)
  const lensMm = Math.round(f * d.between(0.25, 0.6))
  const z = f * d.between(1.05, 1.5)
  const half = lensMm / 2
  const sides = d.pick([0, 4, 6, 8])
  const flat = sides > 0 ? d.whole(0, sides - 1) / sides : d.between(0, 1)
  const azimuthDeg = (360 * flat + 180 + (sides > 0 ? d.between(-6, 6) : 0)) % 360
  const beyond = d.between(8, Math.max(10, 0.8 * half))
  const sun = { tiltDeg: tiltFor(half + beyond, f), azimuthDeg }
  const sizes = { inMm: lensMm, outMm: lensMm, zInMm: d.pick([0, 5]), zOutMm: z - 8 - 0.2 * lensMm }
  const tunnel: Tunnel = { sides, ...sizes, reflectance: d.between(0.85, 0.95), ...mirror }
  const { at, along } = focusOf(z, f, sun)
  const [c, s] = [Math.cos(2 * Math.PI * flat), Math.sin(2 * Math.PI * flat)]
  const over = 2 * (at[0] * c + at[1] * s - half)
  const turned = 2 * (along[0] * c + along[1] * s)
  const place = {
    at: [at[0] - over * c, at[1] - over * s, at[2]] as const,
    along: [along[0] - turned * c, along[1] - turned * s, along[2]] as const,
  }
  const parts = { name: 'Sun off the wall', lens: sunLens(d, z, f, lensMm), tunnel, faceSizeMm: lensMm }
  return sunlit(parts, sun, 'inside', around(place, f))
}

export const SUN_CLASSES = { inside, beside, behind, shortTunnel, ghost, mirrored }
