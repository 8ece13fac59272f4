// V8 holds the compiled code of a closure weakly: when a collection finds none of the closures that were made in one place, their code goes with them, and
// the next ones are interpreted and compiled anew. So the latest are kept where new ones are made for every run. No library: one reference.

const latest = new Map<string, object>()

/** Keeps these closures, and what they hold, until the next of the same name. */
export const keepCode = (name: string, closures: object): void => void latest.set(name, closures)
