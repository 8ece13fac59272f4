// Collimators whose data violate the conservation of étendue (Winston and Welford). With a Lambertian emitter of area A_s and an exit of
// area A_o all of the light needs a cone of at least sin θ = √(A_s/A_o). Some may go wider and the rest narrower, but the exit can't be
// brighter than the emitter: efficiency · π A_s ≤ A_o · ∫ (profile relative to its peak) dΩ.
import { placeEmitters } from '../../lamp/place.ts'
import type { EmitterType, Lamp, OpticType } from '../../lamp/schema.ts'
import { gaussLegendre, integrate, type Rule } from '../../num/quadrature.ts'
import type { Finding } from '../finding.ts'
import { sourceAreaMm2 } from '../optics.ts'
import { deg, plain } from '../words.ts'

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

/** ∫ I/I₀ dΩ over the half space. */
function profileSr({ shape, fwhmDeg }: Collimator): number {
  if (shape === 'cosine') return (2 * Math.PI) / (Math.log(0.5) / Math.log(Math.cos((fwhmDeg * RAD) / 2)) + 1)
  const width = fwhmDeg * RAD
  const f = (t: number) => 2 * Math.PI * Math.sin(t) * Math.exp(-4 * Math.LN2 * (t / width) ** 2)
  return integrate(f, 0, Math.min(Math.PI / 2, 3 * width), fine())
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
    if (optic.fwhmDeg >= smallestDeg) continue
    const ratio = brightnessRatio(emitter, optic)
    const impossible = ratio > 1
    findings.push({
      rule: 'etendue',
      severity: impossible ? 'severe' : 'warning',
      title: impossible
        ? `“${optic.name}” can’t give ${deg(optic.fwhmDeg)} on “${emitter.name}”: the smallest possible width is ${deg(smallestDeg)}.`
        : `“${optic.name}” gives ${deg(optic.fwhmDeg)} on “${emitter.name}” for part of the light only: all of it needs ${deg(smallestDeg)}.`,
      why: `${impossible ? `Its exit would have to be ${plain(ratio)} times as bright as the emitter itself, and no optic can do that. ` : ''}An emitter of ${plain(sourceAreaMm2(emitter))} mm² behind an exit of ${plain(optic.exitDiameterMm)} mm can’t go below sin θ = √(emitter area / exit area) (étendue; Winston and Welford). Candela computed with it are too high.`,
      cure: `Use the width that its maker measured on this emitter, a collimator of at least ${plain(neededExitMm(emitter, optic))} mm, or a smaller emitter.`,
      place: { kind: 'emitter', boardIndex: p.boardIndex, siteIndex: p.siteIndex },
    })
  }
  return findings
}

const neededExitMm = (emitter: EmitterType, optic: Collimator) =>
  Math.ceil(Math.sqrt((4 * sourceAreaMm2(emitter)) / Math.PI) / Math.sin((optic.fwhmDeg * RAD) / 2))
