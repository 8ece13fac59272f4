/** What is estimated: the mean intensity over directions, or the illuminance of a disc. */
export type Aim =
  /** Mean intensity over a cone about a direction (θ from the lamp axis, φ from +x). */
  | { kind: 'cone'; thetaRad: number; phiRad: number; halfRad: number }
  /** The same, mean over the azimuth of the cone's axis. */
  | { kind: 'ring'; thetaRad: number; halfRad: number }
  /** Mean intensity over all directions between two angles to the axis. */
  | { kind: 'band'; fromRad: number; toRad: number }
  /** Mean illuminance over a disc square to the axis. */
  | { kind: 'disc'; xMm: number; yMm: number; zMm: number; discMm: number }
