// Aims of backward tracing beside the axis, and the forward reading that they are chosen by.
import type { Beam } from '../../beam/beam.ts'
import type { Direction } from '../../beam/peak.ts'
import type { Profile } from '../../beam/profile.ts'
import type { TargetReading } from '../../beam/target.ts'
import type { Aim } from '../../engine/backward/aim.ts'
import type { BackwardEstimate } from '../../engine/progressive.ts'
import type { Run } from '../../run/types.ts'

/** One aim beside the axis and what it has latest so far. `beam`, `field`: rings where the profile falls through a half and a tenth of the peak. */
export interface AimEstimate {
  of: 'profile' | 'peak' | 'target' | 'beam' | 'field'
  aim: Aim
  estimate: BackwardEstimate
  /** Of a peak that backward rays have found: where it is. */
  found?: Found
}

/** The brightest place off the axis, as backward rays other than those of its estimate found it. */
export interface Found {
  at: Direction
  /** One standard error of the peak's intensity for lying beside the place, as its neighbours tell, cd. */
  besideCd: number
}

/** What the forward run says where a backward estimate may join it; `beam` as `readLight` has it. */
export interface Forward {
  run: Run
  rays: number
  beam: Beam
  target: TargetReading
}

/** A peak that moves by more than this part of the cone is a new one. */
export const MOVED = 0.5

/** The node of the profile at just this angle, or −1. */
export const nodeAt = (profile: Profile | null, thetaRad: number): number => profile?.thetaRad.indexOf(thetaRad) ?? -1

/** The cone, or the ring, about a peak off the axis. */
export function peakAim(peak: Direction | null, halfRad: number): Aim | null {
  if (!peak || peak.thetaRad === 0) return null
  const { thetaRad, azimuthRad, around } = peak
  return around ? { kind: 'ring', thetaRad, halfRad } : { kind: 'cone', thetaRad, phiRad: azimuthRad, halfRad }
}

/** Two aims of one kind, less than so much apart. */
export function near(a: Aim, b: Aim, rad: number): boolean {
  if (a.kind === 'ring' && b.kind === 'ring') return Math.abs(a.thetaRad - b.thetaRad) < rad
  if (a.kind !== 'cone' || b.kind !== 'cone') return false
  const across = (t: 'cos' | 'sin') => a.thetaRad * Math[t](a.phiRad) - b.thetaRad * Math[t](b.phiRad)
  return Math.hypot(across('cos'), across('sin')) < rad
}
