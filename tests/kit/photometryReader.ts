// A second reader of LM-63, for what we write ourselves: written apart from src/files, by the field list of LM-63-2002 (from memory). It knows
// type C, whole turns and round beams, and takes a file at its word.

export interface PlainPhotometry {
  first: string
  keywords: [string, string][]
  /** The ten numbers, then the three. */
  head: number[]
  gamma: number[]
  psi: number[]
  cd: number[][]
}

export function readPlainly(text: string): PlainPhotometry {
  const [before = '', after = ''] = text.split('TILT=NONE\r\n')
  const [first = '', ...rest] = before.trim().split('\r\n')
  const keywords = rest.map((line): [string, string] => {
    const end = line.indexOf(']')
    return [line.slice(1, end), line.slice(end + 2)]
  })
  const numbers = after.trim().split(/\s+/).map(Number)
  const head = numbers.slice(0, 13)
  const [, , , gammas = 0, psis = 0] = head
  const gamma = numbers.slice(13, 13 + gammas)
  const psi = numbers.slice(13 + gammas, 13 + gammas + psis)
  const from = 13 + gammas + psis
  const cd = psi.map((_, k) => numbers.slice(from + k * gammas, from + (k + 1) * gammas))
  if (numbers.length !== from + gammas * psis) throw new Error(`${numbers.length} numbers, not ${from + gammas * psis}`)
  return { first, keywords, head, gamma, psi, cd }
}

const RAD = Math.PI / 180

/** Zonal sum: mean of a zone's edges times 2π(cos γ₁ − cos γ₂), planes by the trapezoidal rule over the turn. */
export function zonalLumens({ gamma, psi, cd }: PlainPhotometry): number {
  const mean = gamma.map((_, i) => {
    if (psi.length === 1) return cd[0]![i]!
    let sum = 0
    for (let k = 1; k < psi.length; k++) sum += ((cd[k - 1]![i]! + cd[k]![i]!) / 2) * ((psi[k]! - psi[k - 1]!) / 360)
    return sum
  })
  let lm = 0
  for (let i = 1; i < gamma.length; i++)
    lm += Math.PI * (mean[i - 1]! + mean[i]!) * (Math.cos(gamma[i - 1]! * RAD) - Math.cos(gamma[i]! * RAD))
  return lm
}

/** Intensity by straight lines between the file's points; angles in degrees. */
export function cdAt({ gamma, psi, cd }: PlainPhotometry, gammaDeg: number, psiDeg: number): number {
  const between = (x: number[], at: number): [number, number] => {
    if (x.length === 1) return [0, 0]
    let i = 0
    while (i < x.length - 2 && x[i + 1]! < at) i++
    return [i, (at - x[i]!) / (x[i + 1]! - x[i]!)]
  }
  const [i, u] = between(gamma, gammaDeg)
  const [k, v] = between(psi, ((psiDeg % 360) + 360) % 360)
  const row = (r: number) => cd[r]![i]! * (1 - u) + cd[r]![i + 1]! * u
  return psi.length === 1 ? row(0) : row(k) * (1 - v) + row(k + 1) * v
}
