// What a lamp's tunnel and lenses are, one behind the other: the lists that every reader of the document takes.
import type { Element, Lamp, Lens, Tunnel } from './schema.ts'

export type Finish = Pick<Tunnel, 'reflectance' | 'specularShare' | 'scatterDeg' | 'reflectanceByNm' | 'finish'>

/** A straight piece of the tunnel. Sizes at its two ends, mm: across flats, diameter, or a rectangle's width and height. */
export interface Stretch extends Finish {
  zInMm: number
  zOutMm: number
  inMm: number
  outMm: number
  /** Of a rectangle; else as inMm and outMm. */
  inHeightMm: number
  outHeightMm: number
}

/** Whether the section is a rectangle, whose two sizes differ. */
export const isRectangle = (tunnel: Tunnel): boolean => tunnel.inHeightMm !== undefined

/** The tunnel's stretches from the face on; as many as joints and one. */
export function stretchesOf(tunnel: Tunnel): Stretch[] {
  const ends = [...(tunnel.joints ?? [])]
  const finishOf = (of: Finish): Finish => ({
    reflectance: of.reflectance,
    specularShare: of.specularShare,
    scatterDeg: of.scatterDeg,
    ...(of.reflectanceByNm ? { reflectanceByNm: of.reflectanceByNm } : {}),
    ...(of.finish === undefined ? {} : { finish: of.finish }),
  })
  const starts = [
    { zMm: tunnel.zInMm, widthMm: tunnel.inMm, heightMm: tunnel.inHeightMm ?? tunnel.inMm, of: tunnel as Finish },
    ...ends.map((j) => ({ zMm: j.zMm, widthMm: j.aboveMm, heightMm: j.aboveHeightMm ?? j.aboveMm, of: j as Finish })),
  ]
  const stops = [
    ...ends.map((j) => ({ zMm: j.zMm, widthMm: j.belowMm, heightMm: j.belowHeightMm ?? j.belowMm })),
    { zMm: tunnel.zOutMm, widthMm: tunnel.outMm, heightMm: tunnel.outHeightMm ?? tunnel.outMm },
  ]
  return starts.flatMap((start, i) => {
    const stop = stops[i]
    if (!stop) return []
    const { zMm: zInMm, widthMm: inMm, heightMm: inHeightMm, of } = start
    const { zMm: zOutMm, widthMm: outMm, heightMm: outHeightMm } = stop
    return [{ zInMm, zOutMm, inMm, outMm, inHeightMm, outHeightMm, ...finishOf(of) }]
  })
}

const known = new WeakMap<Tunnel, Stretch[]>()

/** Stretches of the tunnel that a height (mm) lies in: two at a joint; beyond its ends the first or the last. */
export function stretchesAt(tunnel: Tunnel, zMm: number): Stretch[] {
  const z = Math.min(Math.max(zMm, tunnel.zInMm), tunnel.zOutMm)
  const all = known.get(tunnel) ?? stretchesOf(tunnel)
  known.set(tunnel, all)
  return all.filter((s) => z >= s.zInMm && z <= s.zOutMm)
}

/** Half sizes of the tunnel's section at a height, mm: along x and y of a rectangle, else both alike; at a step the wider, beyond its ends as there. */
export function sectionAt(tunnel: Tunnel, zMm: number): { xMm: number; yMm: number } {
  const z = Math.min(Math.max(zMm, tunnel.zInMm), tunnel.zOutMm)
  const halves = stretchesAt(tunnel, z).map((s) => {
    const share = (z - s.zInMm) / (s.zOutMm - s.zInMm)
    return { xMm: mixed(s.inMm, s.outMm, share) / 2, yMm: mixed(s.inHeightMm, s.outHeightMm, share) / 2 }
  })
  return halves.reduce((a, b) => ({ xMm: Math.max(a.xMm, b.xMm), yMm: Math.max(a.yMm, b.yMm) }))
}

const mixed = (from: number, to: number, share: number): number => from + (to - from) * share

/** Radius of the circle about the tunnel's section at a height, mm: to the corners of a polygon and a rectangle. */
export function aboutSectionMm(tunnel: Tunnel, zMm: number): number {
  const { xMm, yMm } = sectionAt(tunnel, zMm)
  if (isRectangle(tunnel)) return Math.hypot(xMm, yMm)
  return tunnel.sides === 0 ? xMm : xMm / Math.cos(Math.PI / tunnel.sides)
}

/** How far a point (mm) lies outside the tunnel's section at its height, across the nearest wall; negative inside. */
export function pastWallMm(tunnel: Tunnel, { xMm, yMm, zMm }: { xMm: number; yMm: number; zMm: number }): number {
  const half = sectionAt(tunnel, zMm)
  if (isRectangle(tunnel)) return Math.max(Math.abs(xMm) - half.xMm, Math.abs(yMm) - half.yMm)
  return acrossFlatsMm(tunnel.sides, xMm, yMm) - half.xMm
}

/** Distance from the axis as a section's flats have it: the radius of a round one, or the largest projection on their normals, the first along +x. */
export function acrossFlatsMm(sides: number, xMm: number, yMm: number): number {
  const r = Math.hypot(xMm, yMm)
  if (sides === 0) return r
  const step = (2 * Math.PI) / sides
  const azimuth = Math.atan2(yMm, xMm)
  return r * Math.cos(azimuth - step * Math.round(azimuth / step))
}

/** The lens and the further elements by the z that light from the face meets first; `name` is "Lens" for the lens itself. */
export function elementsOf(lamp: Lamp): (Element & { isLens: boolean })[] {
  const all = [
    ...(lamp.lens ? [{ ...lamp.lens, name: 'Lens', isLens: true }] : []),
    ...(lamp.elements ?? []).map((e) => ({ ...e, isLens: false })),
  ] satisfies ((Element | (Lens & { name: string })) & { isLens: boolean })[]
  return all.sort((a, b) => a.zMm - b.zMm)
}

type Piece = Pick<Element, 'diameterMm' | 'heightMm'> & { aperture?: 'round' | 'square' | 'rectangle' | undefined }

/** Half sizes of the piece along its frame's x and y, mm, and whether it is round (both then its radius). */
export function pieceHalves(piece: Piece): { round: boolean; xMm: number; yMm: number } {
  const xMm = piece.diameterMm / 2
  const yMm = piece.aperture === 'rectangle' && piece.heightMm !== undefined ? piece.heightMm / 2 : xMm
  return { round: (piece.aperture ?? 'round') === 'round', xMm, yMm }
}

/** From the optical axis to the farthest point of the piece, mm: rings are counted so far, 0 for none. */
export function pieceReachMm(
  piece: Piece & { centreXMm?: number | undefined; centreYMm?: number | undefined },
): number {
  const { round, xMm, yMm } = pieceHalves(piece)
  const [x, y] = [Math.abs(piece.centreXMm ?? 0), Math.abs(piece.centreYMm ?? 0)]
  if (round) return x === 0 && y === 0 ? xMm : Math.hypot(x, y) + xMm
  return x === 0 && y === 0 && xMm === yMm ? xMm * Math.SQRT2 : Math.hypot(x + xMm, y + yMm)
}
