// Random lamps of many stretches and elements, and their ledger by part.
import type { Element, Joint, Lamp, Tunnel } from '../../src/lamp/schema.ts'
import type { Figure } from '../../src/run/figure.ts'
import { tallyLayout } from '../../src/run/layout.ts'
import type { Run } from '../../src/run/types.ts'
import { type Dice, dice, randomLamp } from './randomLamp.ts'
import { overRuns } from './traceHere.ts'

/** Share of the emitted watts on one line of the parts (run/parts.ts), with its standard error. */
export function partShare(run: Run, part: number): Figure {
  const at = tallyLayout(run.shape)
  return overRuns(run, (t) => t[at.partsW + part]! / t[at.emitted]!)
}

/** A random lamp, its tunnel cut into stretches, its lens moved and tilted, and up to three elements in front of it. */
export function randomAssembled(seed: number): Lamp {
  const d = dice(seed + 40_009)
  const lamp = randomLamp(seed)
  const tunnel = lamp.tunnel && randomStretches(d, lamp.tunnel)
  let z = tunnel?.zOutMm ?? 40
  const elements: Element[] = []
  const count = Math.floor(d.between(0, 4))
  for (let i = 0; i < count; i++) {
    const element = randomElement(d, i)
    // Room for its own tilt, and for that of the one before.
    z += 0.5 * element.diameterMm + 60
    elements.push({ ...element, zMm: z })
    z += 0.5 * element.diameterMm + 60
  }
  const { lens } = lamp
  const placed = lens && { ...lens, ...randomPlace(d), zMm: z + 0.6 * lens.diameterMm + 60 }
  const moved =
    placed && d.chance(0.5) ? { ...placed, centreXMm: d.between(-40, 40), centreYMm: d.between(-40, 40) } : placed
  // A solid lens off its axis would need a thicker body.
  return { ...lamp, tunnel, lens: moved?.kind === 'solid' ? placed : moved, elements }
}

const randomPlace = (d: Dice) => ({
  decentreXMm: d.between(-20, 20),
  decentreYMm: d.between(-20, 20),
  tiltXDeg: d.pick([0, d.between(-25, 25)]),
  tiltYDeg: d.pick([0, d.between(-25, 25)]),
  turnDeg: d.pick([0, d.between(-180, 180)]),
})

function randomStretches(d: Dice, tunnel: Tunnel): Tunnel {
  const rectangle = d.chance(0.4)
  const size = () => tunnel.inMm * d.between(0.5, 1.5)
  const joints = [0.2, 0.5, 0.8].slice(0, Math.floor(d.between(0, 4))).map((share): Joint => {
    const belowMm = size()
    const aboveMm = d.chance(0.4) ? belowMm : size()
    const heights = rectangle ? { belowHeightMm: size(), aboveHeightMm: size() } : {}
    const zMm = tunnel.zInMm + share * (tunnel.zOutMm - tunnel.zInMm)
    return {
      zMm,
      belowMm,
      aboveMm,
      ...heights,
      reflectance: d.pick([0, 0.7, 0.95]),
      specularShare: d.pick([0, 0.5, 1]),
      scatterDeg: d.pick([0, 2]),
    }
  })
  const table = [450, 550, 650].map((nm) => ({ nm, reflectance: d.between(0.3, 0.98) }))
  return {
    ...tunnel,
    joints,
    ...(rectangle ? { sides: 4, inHeightMm: size(), outHeightMm: size() } : {}),
    ...(d.chance(0.5) ? { reflectanceByNm: table } : {}),
  }
}

function randomElement(d: Dice, i: number): Element {
  const piece = {
    name: `Element ${i}`,
    zMm: 0,
    diameterMm: d.between(60, 300),
    heightMm: d.between(40, 300),
    aperture: d.pick(['round', 'square', 'rectangle'] as const),
    ...randomPlace(d),
  }
  const material = d.pick(['pmma', 'polycarbonate', 'crown'] as const)
  const centre = { centreXMm: d.between(-80, 80), centreYMm: d.between(-80, 80) }
  return d.pick<Element>([
    { ...piece, kind: 'cover', thicknessMm: d.between(1, 10), material },
    { ...piece, kind: 'cover', thicknessMm: d.between(1, 10), material, surfaceReflectance: d.between(0, 0.5) },
    {
      ...piece,
      kind: 'diffuser',
      spreadDeg: d.pick([0, d.between(1, 20)]),
      transmittance: d.between(0.4, 0.7),
      reflectance: d.between(0, 0.3),
    },
    { ...piece, ...centre, kind: 'ideal', focalMm: d.between(100, 500) },
    {
      ...piece,
      ...centre,
      kind: 'fresnel',
      focalMm: d.between(250, 600),
      thicknessMm: d.between(1, 4),
      pitchMm: d.pick([0.5, 2]),
      grooves: d.pick(['target', 'source']),
      draftDeg: d.pick([0, 3]),
      tipShare: d.pick([0, 0.03]),
      material,
      designNm: 560,
    },
    {
      ...piece,
      kind: 'solid',
      radiusMm: 500,
      conic: d.pick([0, -1]),
      thicknessMm: 55,
      curved: d.pick(['target', 'source']),
      material,
    },
  ])
}
