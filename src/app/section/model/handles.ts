// The handles of the section: the range of each, and the lamp for a value. The lamp is always valid.

import { lensSpan } from '../../../lamp/body.ts'
import { LIMITS } from '../../../lamp/limits.ts'
import type { Lamp, Lens } from '../../../lamp/schema.ts'
import { roundMm } from '../../common/lengthText.ts'

export type HandleName = 'inletZ' | 'inletSize' | 'outletZ' | 'outletSize' | 'lensZ' | 'lensSize'

export interface Handle {
  name: HandleName
  /** Accessible name. */
  label: string
  /** For the undo list. */
  edit: string
  along: 'z' | 'r'
  valueMm: number
  minMm: number
  maxMm: number
  /** Where it sits on the drawing. */
  zMm: number
  rMm: number
}

/** Minimum length of the tunnel. */
const MIN_TUNNEL_MM = 1

export function handlesOf(lamp: Lamp): Handle[] {
  const { tunnel, lens } = lamp
  const handles: Handle[] = []
  if (tunnel) {
    const ceiling = lens ? lensSpan(lens)[0] : LIMITS.lengthMm
    handles.push(
      {
        name: 'inletZ',
        label: 'Tunnel inlet, distance from the face',
        edit: 'Move the tunnel inlet',
        along: 'z',
        valueMm: tunnel.zInMm,
        minMm: 0,
        maxMm: Math.max(tunnel.zInMm, tunnel.zOutMm - MIN_TUNNEL_MM),
        zMm: tunnel.zInMm,
        rMm: -tunnel.inMm / 2,
      },
      {
        name: 'inletSize',
        label: `Tunnel inlet, ${tunnel.sides === 0 ? 'diameter' : 'size across flats'}`,
        edit: 'Size the tunnel inlet',
        along: 'r',
        valueMm: tunnel.inMm,
        minMm: 1,
        maxMm: LIMITS.lensMm,
        zMm: tunnel.zInMm,
        rMm: tunnel.inMm / 2,
      },
      {
        name: 'outletZ',
        label: 'Tunnel outlet, distance from the face',
        edit: 'Move the tunnel outlet',
        along: 'z',
        valueMm: tunnel.zOutMm,
        minMm: Math.min(tunnel.zOutMm, tunnel.zInMm + MIN_TUNNEL_MM),
        maxMm: Math.max(tunnel.zOutMm, Math.min(LIMITS.lengthMm, ceiling)),
        zMm: tunnel.zOutMm,
        rMm: -tunnel.outMm / 2,
      },
      {
        name: 'outletSize',
        label: `Tunnel outlet, ${tunnel.sides === 0 ? 'diameter' : 'size across flats'}`,
        edit: 'Size the tunnel outlet',
        along: 'r',
        valueMm: tunnel.outMm,
        minMm: 1,
        maxMm: LIMITS.lensMm,
        zMm: tunnel.zOutMm,
        rMm: tunnel.outMm / 2,
      },
    )
  }
  if (lens) handles.push(...lensHandles(lens, tunnel?.zOutMm ?? null))
  return handles
}

function lensHandles(lens: Lens, outletMm: number | null): Handle[] {
  const behind = lens.zMm - lensSpan(lens)[0]
  const least = outletMm === null ? Math.max(1, behind + 0.1) : Math.max(1, outletMm + behind)
  return [
    {
      name: 'lensZ',
      label: 'Lens, distance from the face',
      edit: 'Move the lens',
      along: 'z',
      valueMm: lens.zMm,
      minMm: Math.min(lens.zMm, least),
      maxMm: LIMITS.lengthMm,
      zMm: lens.zMm,
      rMm: -lens.diameterMm / 2,
    },
    {
      name: 'lensSize',
      label: `Lens, ${lens.kind === 'fresnel' && lens.aperture === 'square' ? 'side' : 'diameter'}`,
      edit: 'Size the lens',
      along: 'r',
      valueMm: lens.diameterMm,
      minMm: 1,
      maxMm: Math.max(lens.diameterMm, widestLensMm(lens)),
      zMm: lens.zMm,
      rMm: lens.diameterMm / 2,
    },
  ]
}

/** Grooves are counted; a solid lens must stay thicker than its own curve: r² = 2Rs − (1 + k)s² at s = t. */
export function widestLensMm(lens: Lens): number {
  if (lens.kind === 'fresnel') return Math.min(LIMITS.lensMm, 2 * lens.pitchMm * LIMITS.rings)
  if (lens.kind === 'ideal') return LIMITS.lensMm
  const q = 1 + lens.conic
  const s = q > 0 ? Math.min(lens.thicknessMm, lens.radiusMm / q) : lens.thicknessMm
  const widest = 2 * Math.sqrt(Math.max(0, 2 * lens.radiusMm * s - q * s * s))
  return Math.max(1, Math.min(LIMITS.lensMm, Math.floor(widest * 10 - 1e-6) / 10 - 0.1))
}

/** Whole millimetres, or tenths when `fine`. */
export const snapped = (mm: number, fine: boolean) => (fine ? Math.round(mm * 10) / 10 : Math.round(mm))

export const clamped = (handle: Handle, mm: number) =>
  roundMm(Math.min(handle.maxMm, Math.max(handle.minMm, Number.isFinite(mm) ? mm : handle.valueMm)))

/** The lamp with that handle at `mm`, or the same lamp when nothing changes. */
export function withHandle(lamp: Lamp, name: HandleName, mm: number): Lamp {
  const handle = handlesOf(lamp).find((h) => h.name === name)
  if (!handle) return lamp
  const value = clamped(handle, mm)
  if (value === handle.valueMm) return lamp
  const { tunnel, lens } = lamp
  switch (name) {
    case 'inletZ':
      return tunnel ? { ...lamp, tunnel: { ...tunnel, zInMm: value } } : lamp
    case 'inletSize':
      return tunnel ? { ...lamp, tunnel: { ...tunnel, inMm: value } } : lamp
    case 'outletZ':
      return tunnel ? { ...lamp, tunnel: { ...tunnel, zOutMm: value } } : lamp
    case 'outletSize':
      return tunnel ? { ...lamp, tunnel: { ...tunnel, outMm: value } } : lamp
    case 'lensZ':
      return lens ? { ...lamp, lens: { ...lens, zMm: value } } : lamp
    case 'lensSize':
      return lens ? { ...lamp, lens: { ...lens, diameterMm: value } } : lamp
  }
}
