// One device's work for one scene, each after the one before, whether that failed or not.
import type { Machine } from './device.ts'

export interface DeviceQueue {
  next<T>(work: () => Promise<T>): Promise<T>
  /** Resolves when nothing is under way any more. Never rejects. */
  ended(): Promise<void>
}

/** `closed`: the work was dropped on purpose, so its failures say nothing of the device. */
export function makeDeviceQueue(machine: Machine, closed: () => boolean): DeviceQueue {
  let last: Promise<unknown> = Promise.resolve()
  return {
    next(work) {
      const now = last.then(work, work).catch((error: unknown) => {
        throw !closed() && machine.lost() ? new Error(machine.lost()!) : error // a lost device shows in many ways
      })
      last = now
      now.catch(() => {})
      return now
    },
    ended: () =>
      last.then(
        () => {},
        () => {},
      ),
  }
}
