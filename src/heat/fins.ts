// Fins and pins of constant section: how much of their area counts. Incropera and DeWitt, Fundamentals of Heat and Mass Transfer, § 3.6
// (Harper and Brown 1922): η = tanh(mL)/(mL) with the length corrected for a tip that gives off heat.

/** m² = h · perimeter / (k · section), per m². */
const efficiency = (m: number, lengthM: number): number => {
  const ml = m * lengthM
  return ml < 1e-6 ? 1 : Math.tanh(ml) / ml
}

/**
 * Efficiency, 0 to 1, of a straight fin: η = tanh(mL)/(mL), m² = 2h/(kt), corrected length L + t/2. h in W/m²K,
 * conductivity in W/mK, lengths in m. Incropera and DeWitt, § 3.6.
 */
export const finEfficiency = (h: number, conductivity: number, thicknessM: number, heightM: number): number =>
  efficiency(Math.sqrt((2 * h) / (conductivity * thicknessM)), heightM + thicknessM / 2)

/**
 * Efficiency, 0 to 1, of a round pin: η = tanh(mL)/(mL), m² = 4h/(kd), corrected length L + d/4. h in W/m²K,
 * conductivity in W/mK, lengths in m. Incropera and DeWitt, § 3.6.
 */
export const pinEfficiency = (h: number, conductivity: number, diameterM: number, heightM: number): number =>
  efficiency(Math.sqrt((4 * h) / (conductivity * diameterM)), heightM + diameterM / 4)

/**
 * Conductance, W/K, from the plate into the part of a straight fin that stands out beyond the plate's edge by
 * `overhangM`: a fin along its own length, G = k t H m tanh(mℓ), m² = 2h/(kt) (Incropera and DeWitt, § 3.6), fed past the
 * plate's edge through (2 ln 2/π) H more of its own metal (derived: conformal map of a strip that is held at one
 * temperature on half of one edge), at the temperature that the fin has on average over its height. h in W/m²K,
 * conductivity in W/mK, lengths in m, all > 0; 0 without overhang. Within 4 % of a computed field while mH is under 0.8.
 */
export function overhangWK(h: number, conductivity: number, thicknessM: number, heightM: number, overhangM: number) {
  if (!(overhangM > 0)) return 0
  const m = Math.sqrt((2 * h) / (conductivity * thicknessM))
  const along = conductivity * thicknessM * heightM
  const alone = along * m * Math.tanh(m * (overhangM + thicknessM / 2))
  const edgeKW = ((2 * Math.LN2) / Math.PI) * (heightM / along)
  return finEfficiency(h, conductivity, thicknessM, heightM) / (1 / alone + edgeKW)
}
