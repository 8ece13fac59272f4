// What is wrong with an edited lamp, in the builder's units. The document's own messages are metric, as its files are.
import { inches } from '../../num/unitSystem.ts'
import type { UnitSystem } from './unitSystem.ts'

const LENGTHS = /(?<![\w.])((?:-?\d+(?:\.\d+)?(?:, | × ))*-?\d+(?:\.\d+)?) mm(?![\w²³])/g

/** Every length with its unit behind it, also where that stands once for several: "3, 4.5 mm". */
export const faultText = (why: string, system: UnitSystem): string =>
  system === 'metric'
    ? why
    : why.replace(
        LENGTHS,
        (_, sizes: string) => `${sizes.replace(/-?\d+(?:\.\d+)?/g, (mm) => inches(Number(mm), 3))} in`,
      )
