import type { Lamp } from '../../src/lamp/schema.ts'

/** The same lamp in the dark: tracing the sun takes longer than the lamp, and most tests don't look at it. */
export const sunless = (lamp: Lamp): Lamp => ({ ...lamp, reading: { ...lamp.reading, sunWm2: 0 } })
