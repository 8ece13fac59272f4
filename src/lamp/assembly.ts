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

interface InRow {
  isLens: boolean
  /** Follows the name where another is called the same: “ at 120 mm”; empty elsewhere, and for the lens itself. */
  where: string
}

/** The lens and the further elements by the z that light from the face meets first; `name` is "Lens" for the lens itself. */
export function elementsOf(lamp: Lamp): (Element & InRow)[] {
  const elements = lamp.elements ?? []
  const names = [...(lamp.lens ? [{ name: 'Lens', zMm: Number.NaN }] : []), ...elements]
  const all = [
    ...(lamp.lens ? [{ ...lamp.lens, name: 'Lens', isLens: true, where: '' }] : []),
    ...elements.map((e) => ({ ...e, isLens: false, where: whereOf(e, names) })),
  ] satisfies ((Element | (Lens & { name: string })) & InRow)[]
  return all.sort((a, b) => a.zMm - b.zMm)
}

function whereOf(e: Element, all: readonly Pick<Element, 'name' | 'zMm'>[]): string {
  const called = (name: string) => name.trim().toLowerCase()
  const alike = all.filter(({ name }) => called(name) === called(e.name))
  if (alike.length < 2) return ''
  const short = (x: number) => Number(x.toPrecision(6)).toString()
  const beside = alike.filter((o) => short(o.zMm) === short(e.zMm)).length > 1
  return ` at ${short(e.zMm)} mm${beside ? `, moved by ${short(e.decentreXMm ?? 0)}, ${short(e.decentreYMm ?? 0)} mm` : ''}`
}

export type RowElement = ReturnType<typeof elementsOf>[number]

/** Its name, and where it stands if another has the same. */
export const labelOf = ({ name, where }: Pick<RowElement, 'name' | 'where'>): string => `${name}${where}`

/** Which of `elementsOf` the run's map of the lens is of, place by place: the lens, or without one what light from the face meets first. */
export const mappedIndex = (elements: readonly Pick<RowElement, 'isLens'>[]): number =>
  Math.max(
    0,
    elements.findIndex((e) => e.isLens),
  )

/** That element; null without any. */
export function mappedElement(lamp: Lamp): RowElement | null {
  const all = elementsOf(lamp)
  return all[mappedIndex(all)] ?? null
}

/** The others, each with a map of its own. */
export function unmappedElements(lamp: Lamp): RowElement[] {
  const all = elementsOf(lamp)
  const mapped = mappedIndex(all)
  return all.filter((_, i) => i !== mapped)
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

/** Where on the piece its farthest point from the optical axis lies, in words: a solid lens is thinnest there. */
export function farthestWords(
  piece: Piece & { centreXMm?: number | undefined; centreYMm?: number | undefined },
): string {
  const { round, xMm, yMm } = pieceHalves(piece)
  const [cx, cy] = [piece.centreXMm ?? 0, piece.centreYMm ?? 0]
  if (cx === 0 && cy === 0) return round ? 'its rim' : 'its corners'
  const short = (x: number) => Number(x.toFixed(1)).toString().replace('-', '−')
  const away = Math.hypot(cx, cy)
  const [x, y] = round ? [(-cx / away) * xMm, (-cy / away) * xMm] : [cx > 0 ? -xMm : xMm, cy > 0 ? -yMm : yMm]
  return `its ${round ? 'rim' : 'corner'} at ${short(x)}, ${short(y)} mm`
}

/** From the optical axis to the nearest point of the piece, mm; 0 where it goes through it. */
export function pieceNearMm(piece: Piece & { centreXMm?: number | undefined; centreYMm?: number | undefined }): number {
  const { round, xMm, yMm } = pieceHalves(piece)
  const [x, y] = [Math.abs(piece.centreXMm ?? 0), Math.abs(piece.centreYMm ?? 0)]
  return round ? Math.max(0, Math.hypot(x, y) - xMm) : Math.hypot(Math.max(0, x - xMm), Math.max(0, y - yMm))
}

const PLACED = ['decentreXMm', 'decentreYMm', 'tiltXDeg', 'tiltYDeg', 'turnDeg'] as const

/** Whether the piece stands on the lamp's axis, untilted and unturned. */
export const isStraight = (piece: Partial<Record<(typeof PLACED)[number], number | undefined>>): boolean =>
  PLACED.every((key) => (piece[key] ?? 0) === 0)

/** Whether the lamp is more than a straight tunnel of one stretch and one lens about the axis: the tracers then take it as an assembly. */
export function isAssembled({ tunnel, lens, elements }: Lamp): boolean {
  if ((elements?.length ?? 0) > 0) return true
  if (tunnel && ((tunnel.joints?.length ?? 0) > 0 || isRectangle(tunnel) || tunnel.reflectanceByNm)) return true
  if (!lens) return false
  const own = (lens.centreXMm ?? 0) !== 0 || (lens.centreYMm ?? 0) !== 0
  return (
    own ||
    !isStraight(lens) ||
    (lens.kind === 'fresnel' ? lens.aperture === 'rectangle' : (lens.aperture ?? 'round') !== 'round')
  )
}

/** A wall, or the step at the upper end of one, in the tunnel unrolled: from which share of its length to which; sizes as of a stretch. */
export interface Unrolled extends Omit<Stretch, keyof Finish> {
  step: boolean
  /** Index of the stretch, or of the one below the step. */
  stretch: number
  fromShare: number
  toShare: number
}

/**
 * The tunnel's profile rolled out, walls along their slope and steps along their width, in the order that light from the face meets them, and
 * its length in mm. Of a rectangle the slope is that of the flats at ± x, and a step as wide as the wider of its two jumps.
 */
export function unroll(stretches: readonly Stretch[]): { lengthMm: number; parts: Unrolled[] } {
  const pieces = stretches.flatMap(({ zInMm, zOutMm, inMm, outMm, inHeightMm, outHeightMm }, stretch) => {
    const next = stretches[stretch + 1]
    const wall = { zInMm, zOutMm, inMm, outMm, inHeightMm, outHeightMm, step: false, stretch }
    const walls = [{ ...wall, mm: Math.hypot(zOutMm - zInMm, (outMm - inMm) / 2) }]
    if (!next) return walls
    const ends = { inMm: outMm, outMm: next.inMm, inHeightMm: outHeightMm, outHeightMm: next.inHeightMm }
    const mm = Math.max(Math.abs(next.inMm - outMm), Math.abs(next.inHeightMm - outHeightMm)) / 2
    return mm > 0 ? [...walls, { ...wall, ...ends, zInMm: zOutMm, step: true, mm }] : walls
  })
  const lengthMm = pieces.reduce((sum, l) => sum + l.mm, 0)
  let below = 0
  const parts = pieces.map(({ mm, ...piece }) => {
    const fromShare = below / lengthMm
    below += mm
    return { ...piece, fromShare, toShare: below / lengthMm }
  })
  return { lengthMm, parts }
}

/** Where each entry of `elementsOf` stands in `lamp.elements`; -1: the lens itself. */
export function rowOrder(lamp: Lamp): number[] {
  const zOf = (at: number): number => (at < 0 ? lamp.lens?.zMm : lamp.elements?.[at]?.zMm) ?? 0
  const all = [...(lamp.lens ? [-1] : []), ...(lamp.elements ?? []).map((_, i) => i)]
  return all.sort((a, b) => zOf(a) - zOf(b))
}
