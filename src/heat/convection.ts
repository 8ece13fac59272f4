// Nusselt numbers by published correlations.
// [1] Churchill and Chu, Int. J. Heat Mass Transfer 18 (1975) 1323–1329 (plate) and 1049–1053 (cylinder).
// [2] McAdams, Heat Transmission, 3rd ed. (1954), ch. 7, in the form of Incropera and DeWitt, ch. 9 (L = area / perimeter).
// [3] Bar-Cohen and Rohsenow, ASME J. Heat Transfer 106 (1984) 116–123: upright channels, both walls isothermal.
// [4] Jones and Smith, ASME J. Heat Transfer 92 (1970) 6–10: upright fins on a level base (from memory).
// [5] Teertstra, Yovanovich and Culham, J. Electronics Manufacturing 10 (2000) 253–261: fins with air blown along (from memory).
// [6] Incropera and DeWitt, ch. 7: flat plate, laminar and mixed. [7] Churchill and Bernstein, ASME J. Heat Transfer 99 (1977) 300–306.
// [8] Churchill, AIChE J. 23 (1977) 10–16, in the form of Incropera and DeWitt, § 9.9 (from memory).

/** Nusselt number of an upright plate, all Ra; length: its height. [1] */
export function verticalPlate(ra: number, pr: number): number {
  return (0.825 + (0.387 * ra ** (1 / 6)) / (1 + (0.492 / pr) ** (9 / 16)) ** (8 / 27)) ** 2
}

/**
 * Nusselt number of an upright plate in laminar flow: closer than `verticalPlate` below Ra 1e9. Length: its height.
 * [1]
 */
export function verticalPlateLaminar(ra: number, pr: number): number {
  return 0.68 + (0.67 * ra ** 0.25) / (1 + (0.492 / pr) ** (9 / 16)) ** (4 / 9)
}

/**
 * Nusselt number of a level plate, its hot side up; length: area / perimeter. [2], Ra 1e4 to 1e11; below that range
 * the laminar law is carried on (our choice).
 */
export const hotSideUp = (ra: number): number => (ra < 1e7 ? 0.54 * ra ** 0.25 : 0.15 * ra ** (1 / 3))

/**
 * Nusselt number of a level plate, its hot side down; length: area / perimeter. [2], Ra 1e5 to 1e10 there; used
 * beyond as well (our choice).
 */
export const hotSideDown = (ra: number): number => 0.27 * ra ** 0.25

/** Nusselt number of a level cylinder, Ra up to 1e12; length: its diameter. [1] */
export function levelCylinder(ra: number, pr: number): number {
  return (0.6 + (0.387 * ra ** (1 / 6)) / (1 + (0.559 / pr) ** (9 / 16)) ** (8 / 27)) ** 2
}

/**
 * Nusselt number (length: the spacing) of an upright channel between isothermal walls, of the difference to the air
 * below it. `raSpacing` > 0 is the Rayleigh number of the spacing times spacing / height. [3]
 */
export const channel = (raSpacing: number): number => (576 / raSpacing ** 2 + 2.873 / Math.sqrt(raSpacing)) ** -0.5

/**
 * Nusselt number (length: the spacing) of upright fins on a level base, hot side up; `ra` > 0 of the spacing alone.
 * [4]
 */
export const finsUp = (ra: number): number => 6.7e-4 * ra * (1 - Math.exp(-((7460 / ra) ** 0.44))) ** 1.7

/**
 * Nusselt number (length: the spacing) of fins with air blown along, of the difference to the air that enters:
 * `reChannel` = U s/ν · s/L; 0 in air that stands. [5]
 */
export function blownFins(reChannel: number, pr: number): number {
  if (!(reChannel > 0)) return 0
  const developed = (reChannel * pr) / 2
  const developing = 0.664 * Math.sqrt(reChannel) * pr ** (1 / 3) * Math.sqrt(1 + 3.65 / Math.sqrt(reChannel))
  return (developed ** -3 + developing ** -3) ** (-1 / 3)
}

/** Mean Nusselt number of air along a flat plate; length: along the flow; turbulent from Re 5e5 on. [6] */
export const blownPlate = (re: number, pr: number): number =>
  (re < 5e5 ? 0.664 * Math.sqrt(re) : 0.037 * re ** 0.8 - 871) * pr ** (1 / 3)

/** Mean Nusselt number of air across a cylinder; length: its diameter; Re · Pr > 0.2. [7] */
export function blownCylinder(re: number, pr: number): number {
  const laminar = (0.62 * Math.sqrt(re) * pr ** (1 / 3)) / (1 + (0.4 / pr) ** (2 / 3)) ** 0.25
  return 0.3 + laminar * (1 + (re / 282_000) ** (5 / 8)) ** (4 / 5)
}

/** Exponent by which moved and still air are joined: upright plates and channels, level ones, level cylinders. [8] */
export const JOINED = { upright: 3, level: 3.5, cylinder: 4 } as const

/**
 * Film coefficient (or Nusselt number of one length) of air that is moved and rises as well:
 * (forced^n + natural^n)^(1/n), never less than either. Flow along or across the buoyancy; against it is taken as along.
 * [8]
 */
export const joinedFilm = (forced: number, natural: number, n: number): number =>
  (forced ** n + natural ** n) ** (1 / n)
