// The handles of the section: the range of each, and the lamp for a value. The lamp is always valid.
import { elementsOf, pieceReachMm, rowOrder } from '../../../lamp/assembly.ts'
import { LIMITS } from '../../../lamp/limits.ts'
import type { Lamp, Lens, Tunnel } from '../../../lamp/schema.ts'
import { alongOf, type Cut, tunnelHalf } from '../../common/cut.ts'
import { roundMm } from '../../common/lengthText.ts'
import { boxOf, isRound } from '../../common/piece.ts'
import { chordOf } from '../../common/pieceCut.ts'
import { moveEnds, sizeStretch } from '../../common/stretchEdits.ts'
import { type Handle, type HandleName, sizeWords } from './handle.ts'
import { jointHandles, withJointHandle } from './jointHandles.ts'

/** Minimum length of the tunnel. */
const MIN_TUNNEL_MM = 1

export function handlesOf(lamp: Lamp, cut: Cut = 'upright'): Handle[] {
  const { tunnel, lens } = lamp
  const handles = tunnel ? [...tunnelHandles(lamp, tunnel, cut), ...jointHandles(tunnel, cut)] : []
  if (lens) handles.push(...lensHandles(lamp, lens, cut))
  return [...handles, ...elementHandles(lamp, cut)]
}

function tunnelHandles(lamp: Lamp, tunnel: Tunnel, cut: Cut): Handle[] {
  const { zInMm, zOutMm } = tunnel
  const ceiling = Math.min(LIMITS.lengthMm, ...elementsOf(lamp).map((e) => downMm(boxOf(e).from[2])))
  const upright = alongOf(cut) === 'y'
  const end = (part: 'inlet' | 'outlet', zMm: number, minMm: number, maxMm: number, sizeMm: number): Handle[] => {
    const half = (side: 1 | -1) => side * tunnelHalf(tunnel, sizeMm, cut, side)
    const both = { part, zMm } as const
    return [
      {
        ...both,
        name: `${part}Z`,
        label: `Tunnel ${part}, distance from the face`,
        edit: `Move the tunnel ${part}`,
        along: 'z',
        ...{ valueMm: zMm, minMm, maxMm, rMm: half(-1), slope: 1, edgesMm: [] },
      },
      {
        ...both,
        name: `${part}Size`,
        label: `Tunnel ${part}, ${sizeWords(tunnel, cut)}`,
        edit: `Size the tunnel ${part}`,
        along: 'r',
        ...{ valueMm: sizeMm, minMm: 1, maxMm: LIMITS.lensMm, rMm: half(1), slope: 2, edgesMm: [half(1), half(-1)] },
      },
    ]
  }
  const inMm = upright ? (tunnel.inHeightMm ?? tunnel.inMm) : tunnel.inMm
  const outMm = upright ? (tunnel.outHeightMm ?? tunnel.outMm) : tunnel.outMm
  return [
    ...end('inlet', zInMm, 0, Math.max(zInMm, zOutMm - MIN_TUNNEL_MM), inMm),
    ...end('outlet', zOutMm, Math.min(zOutMm, zInMm + MIN_TUNNEL_MM), Math.max(zOutMm, ceiling), outMm),
  ]
}

/** Limits rounded as values are, but never past what stands there: a tilted piece ends at no round number. */
const upMm = (mm: number) => Math.ceil(mm * 1e4 - 1e-6) / 1e4
const downMm = (mm: number) => Math.floor(mm * 1e4 + 1e-6) / 1e4

/** How far the element at `at` of the row can go along z without touching its neighbours, the tunnel or the face. */
function roomOf(lamp: Lamp, at: number): { minMm: number; maxMm: number } {
  const row = elementsOf(lamp)
  const zMm = row[at]!.zMm
  const box = boxOf(row[at]!)
  const behind = zMm - box.from[2]
  const before = row.slice(0, at).map((e) => boxOf(e).to[2])
  const after = row.slice(at + 1).map((e) => boxOf(e).from[2])
  const floor = Math.max(lamp.tunnel?.zOutMm ?? 0.1, ...before)
  return {
    minMm: Math.min(zMm, Math.max(1, upMm(floor + behind))),
    maxMm: Math.max(zMm, Math.min(LIMITS.lengthMm, downMm(Math.min(...after) - (box.to[2] - zMm)))),
  }
}

function lensHandles(lamp: Lamp, lens: Lens, cut: Cut): Handle[] {
  const chord = chordOf(lens, cut)
  const [top, bottom] = chord
    ? [chord.at(chord.toMm), chord.at(chord.fromMm)]
    : ([
        [lens.zMm, lens.diameterMm / 2],
        [lens.zMm, -lens.diameterMm / 2],
      ] as const)
  const { key, word } = lensSize(lens, cut)
  const sizeMm = lens[key] ?? lens.diameterMm
  const at = elementsOf(lamp).findIndex((e) => e.isLens)
  const decentre = cut === 'upright' ? lens.decentreYMm : lens.decentreXMm
  const middle: Handle = {
    name: 'lensDecentre',
    part: 'lens',
    label: `Lens, distance of its middle from the axis, ${cut === 'upright' ? 'y' : 'x'}`,
    edit: 'Decentre the lens',
    along: 'r',
    ...{ valueMm: decentre ?? 0, minMm: -LIMITS.lensMm, maxMm: LIMITS.lensMm, slope: 1 },
    ...{ zMm: lens.zMm, rMm: decentre ?? 0, edgesMm: [decentre ?? 0] },
  }
  return [
    {
      name: 'lensZ',
      part: 'lens',
      label: 'Lens, distance from the face',
      edit: 'Move the lens',
      along: 'z',
      ...{ valueMm: lens.zMm, ...roomOf(lamp, at), zMm: bottom[0], rMm: bottom[1], slope: 1, edgesMm: [] },
    },
    {
      name: 'lensSize',
      part: 'lens',
      label: `Lens, ${word}`,
      edit: 'Size the lens',
      along: 'r',
      ...{ valueMm: sizeMm, minMm: 1, maxMm: Math.max(sizeMm, widestLensMm(lens)), slope: 2 },
      ...{ zMm: top[0], rMm: top[1], edgesMm: [top[1], bottom[1]] },
    },
    ...(lens.decentreXMm || lens.decentreYMm ? [middle] : []),
  ]
}

/** Which of its sizes the section shows: a piece turned by more than 45° shows its other one. */
function lensSize(lens: Lens, cut: Cut): { key: 'diameterMm' | 'heightMm'; word: string } {
  if (lens.aperture !== 'rectangle') return { key: 'diameterMm', word: isRound(lens) ? 'diameter' : 'side' }
  const across = Math.abs(Math.sin(((lens.turnDeg ?? 0) * Math.PI) / 180)) > Math.SQRT1_2
  return (cut === 'upright') === across ? { key: 'diameterMm', word: 'width' } : { key: 'heightMm', word: 'height' }
}

function elementHandles(lamp: Lamp, cut: Cut): Handle[] {
  const order = rowOrder(lamp)
  return (lamp.elements ?? []).map((element, i) => {
    const chord = chordOf(element, cut)
    const [zMm, rMm] = chord ? chord.at(chord.fromMm) : [element.zMm, 0]
    return {
      name: `element${i}Z`,
      part: 'element',
      label: `${element.name}, distance from the face`,
      edit: `Move ${element.name}`,
      along: 'z',
      ...{ valueMm: element.zMm, ...roomOf(lamp, order.indexOf(i)), zMm, rMm, slope: 1, edgesMm: [] },
    }
  })
}

/** Grooves are counted; a solid lens must stay thicker than its own curve: r² = 2Rs − (1 + k)s² at s = t. */
export function widestLensMm(lens: Lens): number {
  if (lens.kind === 'fresnel') return Math.min(LIMITS.lensMm, 2 * lens.pitchMm * LIMITS.rings)
  if (lens.kind === 'ideal') return LIMITS.lensMm
  const q = 1 + lens.conic
  const s = q > 0 ? Math.min(lens.thicknessMm, lens.radiusMm / q) : lens.thicknessMm
  const widest = 2 * Math.sqrt(Math.max(0, 2 * lens.radiusMm * s - q * s * s))
  // A corner, or the far side of a piece cut off its middle, lies farther out than half its size.
  const farther = (2 * pieceReachMm(lens)) / lens.diameterMm
  return Math.max(1, Math.min(LIMITS.lensMm, Math.floor((widest / farther) * 10 - 1e-6) / 10 - 0.1))
}

/** Whole millimetres, or tenths when `fine`. */
export const snapped = (mm: number, fine: boolean) => (fine ? Math.round(mm * 10) / 10 : Math.round(mm))

export const clamped = (handle: Handle, mm: number) =>
  roundMm(Math.min(handle.maxMm, Math.max(handle.minMm, Number.isFinite(mm) ? mm : handle.valueMm)))

/** The lamp with that handle at `mm`, or the same lamp when nothing changes. */
export function withHandle(lamp: Lamp, name: HandleName, mm: number, cut: Cut = 'upright'): Lamp {
  const handle = handlesOf(lamp, cut).find((h) => h.name === name)
  if (!handle) return lamp
  const value = clamped(handle, mm)
  if (value === handle.valueMm) return lamp
  const { tunnel } = lamp
  if (handle.part === 'lens') return withLensHandle(lamp, name, value, cut)
  if (handle.part === 'element') {
    const at = Number(name.slice('element'.length, -1))
    return { ...lamp, elements: (lamp.elements ?? []).map((e, i) => (i === at ? { ...e, zMm: value } : e)) }
  }
  return tunnel ? { ...lamp, tunnel: withTunnelHandle(tunnel, name, value, cut) } : lamp
}

function withTunnelHandle(tunnel: Tunnel, name: HandleName, value: number, cut: Cut): Tunnel {
  const along = tunnel.inHeightMm === undefined ? 'x' : alongOf(cut)
  switch (name) {
    case 'inletZ':
      return moveEnds(tunnel, { zInMm: value })
    case 'outletZ':
      return moveEnds(tunnel, { zOutMm: value })
    case 'inletSize':
      return sizeStretch(tunnel, 0, 'in', along, value)
    case 'outletSize':
      return sizeStretch(tunnel, tunnel.joints?.length ?? 0, 'out', along, value)
    default:
      return withJointHandle(tunnel, name, value, along)
  }
}

function withLensHandle(lamp: Lamp, name: HandleName, value: number, cut: Cut): Lamp {
  const { lens } = lamp
  if (!lens) return lamp
  if (name === 'lensZ') return { ...lamp, lens: { ...lens, zMm: value } }
  if (name === 'lensSize') return { ...lamp, lens: { ...lens, [lensSize(lens, cut).key]: value } }
  return { ...lamp, lens: { ...lens, [cut === 'upright' ? 'decentreYMm' : 'decentreXMm']: value } }
}
