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

/** The lens and the further elements by the z that light from the face meets first; `name` is "Lens" for the lens itself. */
export function elementsOf(lamp: Lamp): (Element & { isLens: boolean })[] {
  const all = [
    ...(lamp.lens ? [{ ...lamp.lens, name: 'Lens', isLens: true }] : []),
    ...(lamp.elements ?? []).map((e) => ({ ...e, isLens: false })),
  ] satisfies ((Element | (Lens & { name: string })) & { isLens: boolean })[]
  return all.sort((a, b) => a.zMm - b.zMm)
}

/** Where each entry of `elementsOf` stands in `lamp.elements`; -1: the lens itself. */
export function rowOrder(lamp: Lamp): number[] {
  const zOf = (at: number): number => (at < 0 ? lamp.lens?.zMm : lamp.elements?.[at]?.zMm) ?? 0
  const all = [...(lamp.lens ? [-1] : []), ...(lamp.elements ?? []).map((_, i) => i)]
  return all.sort((a, b) => zOf(a) - zOf(b))
}
