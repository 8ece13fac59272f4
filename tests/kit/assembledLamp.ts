// Random assembled lamps: tunnels of several stretches, rows of elements of every kind, decentred, tilted, turned and cut beside their axis.
// One emitter fills much of the face, so that rays from either end meet often.
import { elementSpan } from '../../src/lamp/body.ts'
import type { Element, Lamp, Tunnel } from '../../src/lamp/schema.ts'
import { type Dice, dice } from './randomLamp.ts'
import { oneEmitter } from './traceHere.ts'

export type Part = Element['kind']

/** `parts`: the elements from the face on; absent: up to three of any kind. */
export function assembledLamp(seed: number, parts?: readonly Part[]): Lamp {
  const d = dice(seed + 40_000)
  const faceMm = d.between(50, 120)
  const across = d.between(0.5, 0.8) * faceMm
  const tunnel = d.chance(0.8) ? randomStretches(d, faceMm) : null
  const lamp = oneEmitter({
    source: d.chance(0.5)
      ? { shape: 'disc', diameterMm: across }
      : { shape: 'rectangle', widthMm: across, heightMm: d.between(0.5, 1) * across },
    profile: { kind: 'cosine', fwhmDeg: d.between(60, 140) },
    spectrum: d.pick([
      { kind: 'equalEnergy' },
      { kind: 'white', classK: 4000 },
      { kind: 'mono', wavelengthNm: d.between(450, 650) },
    ]),
    sites: [{ xMm: d.between(-0.1, 0.1) * faceMm, yMm: d.between(-0.1, 0.1) * faceMm, turnDeg: d.between(0, 360) }],
    tunnel,
    faceReflectance: d.pick([0, 0.8]),
    faceSizeMm: faceMm,
  })
  const kinds = parts ?? Array.from({ length: Math.floor(d.between(tunnel ? 0 : 1, 4)) }, () => d.pick(PARTS))
  const outletMm = tunnel ? Math.min(tunnel.outMm, tunnel.outHeightMm ?? tunnel.outMm) : faceMm
  let top = tunnel?.zOutMm ?? d.between(2, 20)
  const elements = kinds.map((kind, i) => {
    const element = { ...randomPart(d, kind, outletMm * d.between(0.8, 1.6)), name: `${kind} ${i}` } as Element
    const placed = { ...element, zMm: top + d.between(0.5, 8) - elementSpan({ ...element, zMm: 0 })[0] }
    top = elementSpan(placed)[1]
    return placed
  })
  return elements.length > 0 ? { ...lamp, elements } : lamp
}

const PARTS: readonly Part[] = ['ideal', 'solid', 'fresnel', 'cover', 'diffuser']

function randomPart(d: Dice, kind: Part, diameterMm: number): object {
  const aperture = d.pick(['round', 'square', 'rectangle'] as const)
  const half = diameterMm / 2
  const heightMm = aperture === 'rectangle' ? d.between(0.5, 1) * diameterMm : undefined
  const offset = () => d.pick([0, d.between(-0.25, 0.25) * diameterMm])
  const tilt = () => d.pick([0, d.between(-25, 25)])
  const piece = {
    ...{ kind, zMm: 0, diameterMm, aperture, decentreXMm: offset() / 2, decentreYMm: offset() / 2 },
    ...{ tiltXDeg: tilt(), tiltYDeg: tilt(), turnDeg: d.pick([0, d.between(-180, 180)]) },
    ...(heightMm === undefined ? {} : { heightMm }),
  }
  const centre = { centreXMm: d.pick([0, d.between(-1, 1) * diameterMm]), centreYMm: offset() }
  const material = { material: d.pick(['pmma', 'polycarbonate', 'crown', 'float'] as const) }
  const focalMm = diameterMm * d.between(0.8, 3)
  if (kind === 'ideal') return { ...piece, ...centre, focalMm }
  if (kind === 'diffuser') {
    const transmittance = d.between(0.5, 0.9)
    return { ...piece, spreadDeg: d.pick([1, 5, 20, 40]), transmittance, reflectance: d.pick([0, 0.9 - transmittance]) }
  }
  if (kind === 'cover') {
    const coating = d.chance(0.5) ? {} : { surfaceReflectance: d.pick([0, 0.01, 0.3]) }
    return { ...piece, ...material, ...coating, thicknessMm: d.between(0.5, 10) }
  }
  const farthest = Math.hypot(Math.abs(centre.centreXMm) + half, Math.abs(centre.centreYMm) + half)
  if (kind === 'solid') {
    const radiusMm = farthest * d.between(1.1, 2.5)
    const conic = d.pick([0, -1, -2])
    const sag = farthest ** 2 / radiusMm / (1 + Math.sqrt(1 - ((1 + conic) * farthest ** 2) / radiusMm ** 2))
    return {
      ...{ ...piece, ...centre, ...material, radiusMm, conic, thicknessMm: sag + d.between(1, 6) },
      curved: d.pick(['target', 'source']),
    }
  }
  const pitchMm = d.pick([0.5, 2, 6])
  return {
    ...{ ...piece, ...centre, ...material, focalMm: focalMm + 0.5 * farthest, pitchMm, thicknessMm: d.between(1, 5) },
    ...{
      grooves: d.pick(['target', 'source']),
      draftDeg: d.pick([0, 3, 8]),
      tipShare: d.pick([0, 0, 0.1]),
      designNm: 560,
    },
  }
}

function randomStretches(d: Dice, faceMm: number): Tunnel {
  const rectangle = d.chance(0.4)
  const sides = rectangle ? 4 : d.pick([0, 0, 5, 6] as const)
  const sizes = (): { mm: number; highMm: number } => {
    const mm = faceMm * d.between(0.8, 1.6)
    return { mm, highMm: rectangle ? faceMm * d.between(0.8, 1.6) : mm }
  }
  const finish = () => ({
    reflectance: d.pick([0.6, 0.9]),
    specularShare: d.pick([0, 0.7, 1]),
    scatterDeg: d.pick([0, 2, 12]),
    ...(d.chance(0.4) && {
      reflectanceByNm: [
        { nm: 420, reflectance: d.between(0.5, 1) },
        { nm: 560, reflectance: d.between(0.5, 1) },
        { nm: 700, reflectance: d.between(0.5, 1) },
      ],
    }),
  })
  const count = Math.floor(d.between(1, 4))
  const zInMm = d.pick([0, 4])
  const [inlet, outlet] = [sizes(), sizes()]
  let zMm = zInMm
  const joints = Array.from({ length: count - 1 }, () => {
    zMm += d.between(15, 60)
    const below = sizes()
    const above = d.chance(0.3) ? below : sizes()
    const heights = rectangle ? { belowHeightMm: below.highMm, aboveHeightMm: above.highMm } : {}
    return { zMm, belowMm: below.mm, aboveMm: above.mm, ...heights, ...finish() }
  })
  return {
    ...{ sides, inMm: inlet.mm, outMm: outlet.mm, zInMm, zOutMm: zMm + d.between(15, 60), ...finish(), joints },
    ...(rectangle ? { inHeightMm: inlet.highMm, outHeightMm: outlet.highMm } : {}),
  }
}
