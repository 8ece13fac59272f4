// What every step of the beam's job is given.

/** Rays whose exits are kept for the readers that propagate them. */
export const EXITS_KEPT = 1 << 19

export interface Control {
  /** True once nobody waits for this trace any more. */
  stopped(): boolean
  /** Resolves at once, or when a pause ends. */
  ready(): Promise<void>
  /** Resolves once nobody waits for this trace any more; absent: that is only asked. */
  gone?: Promise<null>
  /** The first look has gone to be read elsewhere: another lamp may be traced, and the sheet of this one comes even so. */
  onHanded?(): void
}
export const RUNNING: Control = { stopped: () => false, ready: () => Promise.resolve() }
