// Whether its work is done the device's package asks in a busy loop of `setImmediate`, which takes the core that a software device needs;
// here it asks once a millisecond.
globalThis.setImmediate = ((task: (...args: unknown[]) => void, ...args: unknown[]) =>
  setTimeout(task, 1, ...args)) as unknown as typeof setImmediate
