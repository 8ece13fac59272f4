// Meshes and lines of the solid view as plain arrays, mm, in the lamp's frame; three only uploads them.
import type { Lens, Tunnel } from '../../../lamp/schema.ts'
import { flatsPolygon } from '../../../layout/outline.ts'
import { FATE_GROUPS, type FateGroup, groupOfFate } from '../../common/fates.ts'
import { drawnRings, fresnelPlanes, type Point, solidOutline } from '../../common/lensProfile.ts'

export interface Mesh {
  position: Float32Array
  index: Uint32Array
}

const ROUND_STEPS = 72

/** Corners of a ring of the tunnel, anticlockwise; a polygon's first flat faces +x. */
export function ringPoints(sides: number, sizeMm: number): readonly (readonly [number, number])[] {
  if (sides > 0) return flatsPolygon(sides, sizeMm)
  return Array.from({ length: ROUND_STEPS }, (_, i) => {
    const at = (2 * Math.PI * i) / ROUND_STEPS
    return [(sizeMm / 2) * Math.cos(at), (sizeMm / 2) * Math.sin(at)] as const
  })
}

export function tunnelMesh(t: Tunnel): Mesh {
  const inlet = ringPoints(t.sides, t.inMm)
  const outlet = ringPoints(t.sides, t.outMm)
  const n = inlet.length
  const position = new Float32Array(6 * n)
  const index = new Uint32Array(6 * n)
  for (const [i, at] of inlet.entries()) {
    position.set([...at, t.zInMm, ...outlet[i]!, t.zOutMm], 6 * i)
    const a = 2 * i
    const b = 2 * ((i + 1) % n)
    index.set([a, b, a + 1, b, b + 1, a + 1], 6 * i)
  }
  return { position, index }
}

/** Rims and edges between flats; for a round wall a few straight lines. */
export function tunnelEdges(t: Tunnel): Float32Array {
  const inlet = ringPoints(t.sides, t.inMm)
  const outlet = ringPoints(t.sides, t.outMm)
  const n = inlet.length
  const every = t.sides > 0 ? 1 : ROUND_STEPS / 8
  const out: number[] = []
  for (const [i, at] of inlet.entries()) {
    const next = (i + 1) % n
    const beyond = outlet[i]!
    out.push(...at, t.zInMm, ...inlet[next]!, t.zInMm)
    out.push(...beyond, t.zOutMm, ...outlet[next]!, t.zOutMm)
    if (i % every === 0) out.push(...at, t.zInMm, ...beyond, t.zOutMm)
  }
  return Float32Array.from(out)
}

/** Half of the lens's meridian section, (z, r), for a surface of revolution; grooves are too fine for this view. */
export function lensMeridian(lens: Lens): Point[] {
  const rim = lens.diameterMm / 2
  if (lens.kind === 'solid') return solidOutline(lens, 32)
  if (lens.kind === 'ideal')
    return [
      [lens.zMm, 0],
      [lens.zMm, rim],
    ]
  const { flatMm, valleyMm } = fresnelPlanes(lens)
  return [
    [valleyMm, 0],
    [valleyMm, rim],
    [flatMm, rim],
    [flatMm, 0],
  ]
}

/** Rings on the groove side: about twenty of the grooves, as a hint. */
export function grooveRings(lens: Lens): { zMm: number; rMm: number }[] {
  if (lens.kind !== 'fresnel') return []
  const { valleyMm } = fresnelPlanes(lens)
  const rings = drawnRings(lens)
  const every = Math.max(1, Math.round(rings / 22))
  return Array.from({ length: Math.floor(rings / every) }, (_, i) => ({
    zMm: valleyMm,
    rMm: (i + 1) * every * lens.pitchMm,
  }))
}

/** Pairs of points with a colour each, for the paths whose group is shown. */
export function pathSegments(
  paths: { start: Uint32Array; xyz: Float32Array; fate: Uint8Array },
  hidden: readonly FateGroup['name'][],
): { position: Float32Array; colour: Float32Array } {
  const shown = (i: number) => !hidden.includes(FATE_GROUPS[groupOfFate(paths.fate[i]!)]!.name)
  let count = 0
  for (let i = 0; i < paths.fate.length; i++)
    if (shown(i)) count += Math.max(0, paths.start[i + 1]! - paths.start[i]! - 1)
  const position = new Float32Array(6 * count)
  const colour = new Float32Array(6 * count)
  let at = 0
  for (let i = 0; i < paths.fate.length; i++) {
    if (!shown(i)) continue
    const rgb = rgbOf(FATE_GROUPS[groupOfFate(paths.fate[i]!)]!.colour)
    for (let v = paths.start[i]!; v < paths.start[i + 1]! - 1; v++) {
      position.set(paths.xyz.subarray(3 * v, 3 * v + 6), at)
      colour.set([...rgb, ...rgb], at)
      at += 6
    }
  }
  return { position, colour }
}

/** three expects linear vertex colours: the inverse curve of IEC 61966-2-1. */
const rgbOf = (hex: string): [number, number, number] => [channel(hex, 1), channel(hex, 3), channel(hex, 5)]

function channel(hex: string, at: number): number {
  const v = Number.parseInt(hex.slice(at, at + 2), 16) / 255
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4
}
