// What to do about a finding, in a few words: for the line on top of the page, where a title with its numbers is too long.
import { ENDS_DISAGREE, type Finding } from '../checks/finding.ts'
import type { Lamp } from '../lamp/schema.ts'
import { frontWord } from '../library/lensSystem.ts'

/**
 * mend: the design or what is missing of its results. handle: how the lamp is to be handled once it stands. keep: what a distance answers.
 * The line says the first that there is.
 */
export type Remedy = 'mend' | 'handle' | 'keep'

type Words = string | ((front: 'lens' | 'front') => string)

const MEND: Readonly<Record<string, Words>> = {
  [ENDS_DISAGREE]: 'trust no figure, forward and backward tracing disagree',
  'beam-not-computed': 'the beam is not computed, so its dangers are unknown',
  'heat-not-computed': 'heat and power are not computed, so their dangers are unknown',
  'danger-not-computed': 'the dangers in full are not computed',
  'cell-cut-off-high': 'lower the cells’ cut-off voltage, the lamp never comes on',
  'cell-cut-off-low': 'raise the cells’ cut-off voltage',
  'cells-hot': 'draw less or cool the cells, they get too hot',
  'connector-over-current': 'take larger connectors',
  'connector-voltage': 'take connectors for a higher voltage',
  'contactor-breaking-capacity': 'take a contactor that breaks more current',
  'contactor-over-current': 'take a contactor for more current',
  'contactor-voltage': 'take a contactor for a higher voltage',
  'cut-out-too-high': 'set the cut-out lower, it opens too late',
  'driver-input-too-high': 'change the driver, the supply’s voltage breaks it',
  'driver-range': 'match driver and supply, they don’t fit',
  'driver-short': 'fuse each channel tighter, a failed driver burns its emitters',
  'element-softens': 'spread the light on the elements, one softens',
  'emitter-outside-tunnel': 'move boards inwards or widen the tunnel’s inlet',
  'emitter-over-current': 'lower the current, emitters bear less',
  etendue: 'widen the collimators, their angle is impossible',
  'face-hot': 'keep plastic off the face, light that comes back burns it',
  'fuse-missing': 'put in the missing fuse',
  'fuse-over-contacts': 'take a smaller fuse, its contacts bear less',
  'fuse-over-pack': 'take a smaller main fuse, the pack bears less',
  inrush: 'charge the drivers through a resistor, their inrush welds contacts',
  'insulation-over-place': 'take wire whose insulation bears the heat',
  'junction-over-limit': 'step down sooner or cool better, emitters get too hot',
  'lens-cracks': 'spread the light on the lens, the glass can crack',
  'lens-hot': 'spread the light on the lens, dirt on it can catch fire',
  'lens-softens': 'spread the light on the lens, it softens',
  'light-beside': 'close the gaps, light beside the beam burns',
  'limit-implausible': 'check the limits entered, one is too high',
  'no-emitters': 'put boards on the face, the lamp gives no light',
  'optics-over-hot-face': 'step down sooner or cool better, plastic optics soften',
  'over-current': 'lower the current, emitters bear less',
  'pack-over-current': 'draw less or add cells, the pack can’t give it',
  'relay-breaking-capacity': 'take a relay that breaks more current',
  'relay-inrush': 'charge the drivers through a resistor, their inrush welds a relay',
  'relay-over-current': 'take a relay for more current',
  'relay-voltage': 'take a relay for a higher voltage',
  'sink-over-rating': 'take a larger sink',
  'strings-unbalanced': 'balance the strings, one may take too much',
  'strings-unequal': 'make the strings equal',
  'touch-voltage': 'insulate every contact, the voltage is dangerous',
  'tunnel-smaller-than-array': 'widen the tunnel’s inlet, it cuts the array',
  'wall-hot': 'use bare metal in the tunnel, its wall gets too hot',
  'wire-over-current': 'take thicker wire',
}

const HANDLE: Readonly<Record<string, Words>> = {
  'bare-lens': 'keep the lens wrapped until it is built in, the sun burns through it',
  'cover-traps-heat': (front) => `never leave a cover on the lit ${front}`,
  'hand-on-lens': (front) => `guard the ${front}, it burns hands`,
  'in-the-way': (front) => `take everything off the ${front} before you switch on`,
  'lens-hot-to-touch': (front) => `guard the ${front}, it burns hands`,
  'sink-covered': 'never cover the lamp while it is lit',
  'sun-beside': (front) => `cover the ${front} whenever the lamp is off, the sun burns through it`,
  'sun-beside-lens': (front) => `cover the ${front} whenever the lamp is off, the sun burns through it`,
  'sun-from-a-side': (front) => `cover the ${front} whenever the lamp is off, the sun burns it from inside`,
  'sun-inside': (front) => `cover the ${front} whenever the lamp is off, the sun burns it from inside`,
  'sun-over-the-day': (front) => `cover the ${front} whenever the lamp is off, the sun burns it from inside`,
  'sun-thrown-back': (front) => `cover the ${front} whenever the lamp is off, it throws the sun back`,
  'touch-hot': 'guard plate and sink, they burn hands',
}

const KEEP: Readonly<Record<string, Words>> = {
  eye: 'never look into the beam',
  'front-hot': 'keep people and what burns out of the beam',
}

export const remedyOf = ({ rule }: Pick<Finding, 'rule'>): Remedy =>
  Object.hasOwn(HANDLE, rule) ? 'handle' : Object.hasOwn(KEEP, rule) ? 'keep' : 'mend'

/** Begins with a small letter and has no full stop. A rule without words of its own is said by the first sentence of its title, which is as in the document. */
export function remedyWords({ rule, title }: Pick<Finding, 'rule' | 'title'>, lamp: Lamp): string {
  const words = [MEND, HANDLE, KEEP].find((table) => Object.hasOwn(table, rule))?.[rule]
  if (words === undefined) return title.replace(/\. .*$/su, '').replace(/\.$/u, '')
  return typeof words === 'string' ? words : words(frontWord(lamp))
}
