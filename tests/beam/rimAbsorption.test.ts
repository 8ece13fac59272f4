// Light that runs inside a lens to its rim: what the material takes on the way ends at the rim. Derived: Snell's and Fresnel's laws, Lambert–Beer.
import { expect, test } from 'vitest'
import { readLedger } from '../../src/beam/ledger.ts'
import { readPartLedger } from '../../src/beam/partLedger.ts'
import type { Element, Lamp } from '../../src/lamp/schema.ts'
import { mean } from '../../src/num/stats.ts'
import { atAngle, oneEmitter, traceHere } from '../kit/traceHere.ts'

const RAD = Math.PI / 180
const [ANGLE_DEG, INDEX, PER_MM, Z_MM, HALF_MM, HALF_Y_MM] = [60, 1.5, 0.05, 10, 30, 22]

const ownMaterial = {
  name: 'Grey',
  family: 'plastic' as const,
  index: { by: 'table' as const, rows: [{ wavelengthNm: 555, index: INDEX }] },
  absorption: { by: 'value' as const, perMm: PER_MM },
  densityKgM3: 1200,
  ...{ keepBelowC: null, deflectionC: null, ignitionC: null },
}
const body = { zMm: Z_MM, diameterMm: 2 * HALF_MM, thicknessMm: 40, material: 'own' as const, ownMaterial }
const fresnel = {
  ...{ ...body, kind: 'fresnel' as const, focalMm: 500, pitchMm: 1, draftDeg: 3, tipShare: 0, designNm: 555 },
  grooves: 'target' as const,
}
const cover = { ...body, kind: 'cover' as const, name: 'Pane' }
// A point of light on the axis whose rays make one angle with it: all of them come into the flat side on one circle.
const source = oneEmitter({ source: { shape: 'disc', diameterMm: 0.001 }, profile: atAngle(ANGLE_DEG) })
const lamp = (over: Partial<Lamp>): Lamp => ({ ...source, ...over })

const sin = Math.sin(ANGLE_DEG * RAD)
const [cos, cosInside] = [Math.cos(ANGLE_DEG * RAD), Math.sqrt(1 - (sin / INDEX) ** 2)]
/** What enters, unpolarised. */
const ENTERS =
  1 -
  (((cos - INDEX * cosInside) / (cos + INDEX * cosInside)) ** 2 +
    ((INDEX * cos - cosInside) / (INDEX * cos + cosInside)) ** 2) /
    2
const MEETS_MM = Z_MM * Math.tan(ANGLE_DEG * RAD)

/** Share of what enters that comes to the rim, where the rim is so far from the axis, mm: along a straight way of sideways length / sin θ′. */
const comes = (rimMm: number) => Math.exp((-PER_MM * (rimMm - MEETS_MM)) / (sin / INDEX))
const AZIMUTHS = Array.from({ length: 3600 }, (_, k) => ((k + 0.5) / 10) * RAD)
/** Of a rectangle: the nearer of its two sides, by azimuth. */
const toSide = (halfYMm: number) =>
  mean(AZIMUTHS.map((a) => comes(Math.min(HALF_MM / Math.abs(Math.cos(a)), halfYMm / Math.abs(Math.sin(a))))))

const CASES: [string, Lamp, number][] = [
  ['a round Fresnel lens', lamp({ lens: { ...fresnel, aperture: 'round' } }), comes(HALF_MM)],
  ['a square Fresnel lens', lamp({ lens: { ...fresnel, aperture: 'square' } }), toSide(HALF_MM)],
  ['a round pane', lamp({ elements: [{ ...cover, aperture: 'round' } as Element] }), comes(HALF_MM)],
  [
    'a rectangular pane',
    lamp({ elements: [{ ...cover, aperture: 'rectangle', heightMm: 2 * HALF_Y_MM } as Element] }),
    toSide(HALF_Y_MM),
  ],
]

test.each(CASES)('%s: absorbed on the way to the rim, and no further', (_, of, rimShare) => {
  const run = traceHere(of, { rays: 1 << 14 })
  const rows = new Map(readLedger(run, {}).map(({ line, share }) => [line, share]))
  const hold = (name: string, share: { value: number; se: number } | undefined, byHand: number) => {
    // Rays within a hundredth of a degree: a way by some 1e-4 longer or shorter.
    const off = Math.abs((share?.value ?? 0) - byHand)
    expect(off, `${name}: ${share?.value} ± ${share?.se}, by hand ${byHand}`).toBeLessThan(5 * (share?.se ?? 0) + 1e-4)
    expect(share?.se).toBeLessThan(0.005)
  }
  hold('rim', rows.get('lensRim'), ENTERS * rimShare)
  hold('absorbed', rows.get('lensAbsorbed'), ENTERS * (1 - rimShare))
  for (const { name, share } of readPartLedger(run, of)) {
    if (name === 'Pane: absorbed') hold(name, share, ENTERS * (1 - rimShare))
    if (name === 'Pane: ended on the rim') hold(name, share, ENTERS * rimShare)
  }
})
