// Collimators whose data violate the conservation of étendue (Winston and Welford). With a Lambertian emitter of area A_s and an exit of
// area A_o all of the light needs a cone of at least sin θ = √(A_s/A_o). Some may go wider and the rest narrower, but the exit can't be
// brighter than the emitter: efficiency · π A_s ≤ A_o · ∫ (profile relative to its peak) dΩ.
import { placeEmitters } from '../../lamp/place.ts'
import type { EmitterType, Lamp, OpticType } from '../../lamp/schema.ts'
import { gaussLegendre, integrate, type Rule } from '../../num/quadrature.ts'
import type { Finding } from '../finding.ts'
import { sourceAreaMm2 } from '../optics.ts'
import { area, deg, degUp, mm, mmAtLeast, plain } from '../words.ts'

type Collimator = Extract<OpticType, { kind: 'collimator' }>
const RAD = Math.PI / 180

let rule: Rule | undefined
/** Made when first asked for: it takes milliseconds, which every start of the command line would wait. */
const fine = () => (rule ??= gaussLegendre(48))

/** Smallest full angle for all of the light; null where the exit is no larger than the emitter, which allows no narrowing. */
export function smallestPossibleFwhmDeg(sourceMm2: number, exitMm2: number): number | null {
  return exitMm2 > sourceMm2 ? (2 * Math.asin(Math.sqrt(sourceMm2 / exitMm2))) / RAD : null
}

/** How many times brighter than the emitter the exit would have to be. */
export function brightnessRatio(emitter: EmitterType, optic: Collimator): number {
  const exit = (Math.PI / 4) * optic.exitDiameterMm ** 2
  return (optic.efficiency * Math.PI * sourceAreaMm2(emitter)) / (exit * profileSr(optic))
}

/** ∫ I/I₀ dΩ over the half space, I₀ the greatest intensity. */
function profileSr({ shape, fwhmDeg, fwhmYDeg, profile }: Collimator): number {
  if (shape === 'table' && profile) return tableSr(profile)
  if (shape === 'cosine') return (2 * Math.PI) / (Math.log(0.5) / Math.log(Math.cos((fwhmDeg * RAD) / 2)) + 1)
  const gaussianSr = (widthDeg: number) => {
    const width = widthDeg * RAD
    const f = (t: number) => 2 * Math.PI * Math.sin(t) * Math.exp(-4 * Math.LN2 * (t / width) ** 2)
    return integrate(f, 0, Math.min(Math.PI / 2, 3 * width), fine())
  }
  if (fwhmYDeg === undefined || fwhmYDeg === fwhmDeg) return gaussianSr(fwhmDeg)
  const quarter = (phi: number) =>
    gaussianSr(1 / Math.hypot(Math.cos(phi) / fwhmDeg, Math.sin(phi) / fwhmYDeg)) / (Math.PI / 2)
  return integrate(quarter, 0, Math.PI / 2, fine())
}

/** Of a table, or of a map between whose azimuths intensity is linear: each row stands for half the way to both its neighbours. */
function tableSr(profile: NonNullable<Collimator['profile']>): number {
  const rows = profile.kind === 'table' ? [profile.intensity] : profile.intensity
  const phi = profile.kind === 'table' ? [0] : profile.phiDeg
  const peak = rows.reduce((most, row) => row.reduce((a, b) => Math.max(a, b), most), 0)
  let sum = 0
  for (const [i, row] of rows.entries()) {
    const n = phi.length
    const before = (phi[i]! - phi[(i + n - 1) % n]! + 360) % 360 || 360
    const after = (phi[(i + 1) % n]! - phi[i]! + 360) % 360 || 360
    sum += (rowSr(profile.thetaDeg, row) * (before + after)) / 720
  }
  return sum / peak
}

/** 2π ∫ I sinθ dθ with I linear in θ between the points, flat before the first, nought past the last. */
function rowSr(thetaDeg: readonly number[], intensity: readonly number[]): number {
  const theta = thetaDeg.map((t) => t * RAD)
  let sum = intensity[0]! * (1 - Math.cos(theta[0]!))
  for (let i = 1; i < theta.length; i++) {
    const [a, b] = [theta[i - 1]!, theta[i]!]
    const slope = (intensity[i]! - intensity[i - 1]!) / (b - a)
    sum += intensity[i - 1]! * Math.cos(a) - intensity[i]! * Math.cos(b) + slope * (Math.sin(b) - Math.sin(a))
  }
  return 2 * Math.PI * sum
}

export function etendue(lamp: Lamp): Finding[] {
  const seen = new Set<string>()
  const findings: Finding[] = []
  for (const p of placeEmitters(lamp)) {
    const { emitter, optic } = p
    const key = `${emitter.id}|${optic.id}`
    if (optic.kind !== 'collimator' || seen.has(key)) continue
    seen.add(key)
    const smallestDeg =
      smallestPossibleFwhmDeg(sourceAreaMm2(emitter), (Math.PI / 4) * optic.exitDiameterMm ** 2) ?? 180
    const table = optic.shape === 'table'
    if (!table && roundFwhmDeg(optic) >= smallestDeg) continue
    const ratio = brightnessRatio(emitter, optic)
    const impossible = ratio > 1
    if (table && !impossible) continue
    findings.push({
      rule: 'etendue',
      severity: impossible ? 'severe' : 'warning',
      title: impossible
        ? `“${optic.name}” can’t give ${widthText(optic)} on “${emitter.name}”: the smallest possible width is ${degUp(smallestDeg)}.`
        : `“${optic.name}” gives ${widthText(optic)} on “${emitter.name}” for part of the light only: all of it needs ${degUp(smallestDeg)}.`,
      why: `${impossible ? `Its exit would have to be ${plain(ratio)} times as bright as the emitter itself, and no optic can do that. ` : ''}An emitter of ${area(sourceAreaMm2(emitter))} behind an exit of ${mm(optic.exitDiameterMm)} can’t go below sin θ = √(emitter area / exit area) (étendue; Winston and Welford). Candela computed with it are too high.`,
      cure: `Use the width that its maker measured on this emitter, a collimator of at least ${mmAtLeast(neededExitMm(emitter, optic))}, or a smaller emitter.`,
      place: { kind: 'emitter', boardIndex: p.boardIndex, siteIndex: p.siteIndex },
    })
  }
  return findings
}

const neededExitMm = (emitter: EmitterType, optic: Collimator) =>
  Math.ceil(Math.sqrt((4 * sourceAreaMm2(emitter)) / Math.PI) / Math.sin((roundFwhmDeg(optic) * RAD) / 2))

/** Width of the round cone that holds the same étendue as an elliptical beam: sin² θ = sin θ_x sin θ_y. */
function roundFwhmDeg({ fwhmDeg, fwhmYDeg = fwhmDeg }: Collimator): number {
  const sines = Math.sin((fwhmDeg * RAD) / 2) * Math.sin((fwhmYDeg * RAD) / 2)
  return fwhmYDeg === fwhmDeg ? fwhmDeg : (2 * Math.asin(Math.sqrt(sines))) / RAD
}

const widthText = ({ shape, fwhmDeg, fwhmYDeg }: Collimator) =>
  shape === 'table' ? 'its table' : fwhmYDeg === undefined ? deg(fwhmDeg) : `${deg(fwhmDeg)} × ${deg(fwhmYDeg)}`
