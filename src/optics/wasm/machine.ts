// A kernel in WebAssembly, with the ray, its stream and the scene's parameters in its memory as every kernel has them (slots.ts).
import { RAY_SIZE } from '../records.ts'
import { RAY_AT, STREAM_AT, TABLES_AT } from './slots.ts'

const PAGE = 65_536

export interface Machine {
  memory: WebAssembly.Memory
  /** Whose tables are in the memory. */
  user: object | null
  /** Views of the memory; made anew when it grows. */
  ray: Float64Array
  stream: Int32Array
}

/**
 * An instance of the module `text` (base64) and what it exports. `host`: the functions that it calls, besides those whose last digit a library decides: these
 * are the host's own, so that kernel and reference agree to the bit.
 */
export function makeMachine<Exports>(text: string, bytes: number, host: WebAssembly.ModuleImports): Machine & Exports {
  const memory = new WebAssembly.Memory({ initial: Math.ceil(bytes / PAGE) })
  const { pow, log, exp, acos, cos, sin } = Math
  const abort = () => {
    throw new Error('the WebAssembly kernel has stopped')
  }
  const code = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
  const imports = { env: { memory, abort }, host: { pow, log, exp, acos, cos, sin, ...host } }
  const { exports } = new WebAssembly.Instance(new WebAssembly.Module(code), imports)
  return { ...(exports as unknown as Exports), memory, user: null, ...viewsOf(memory) }
}

const viewsOf = ({ buffer }: WebAssembly.Memory): Pick<Machine, 'ray' | 'stream'> => ({
  ray: new Float64Array(buffer, RAY_AT, RAY_SIZE),
  stream: new Int32Array(buffer, STREAM_AT, 3),
})

/** The machine's memory holds at least so many bytes; it may be another buffer then, with other views. */
export function makeRoom(machine: Machine, bytes: number): void {
  const missing = bytes - machine.memory.buffer.byteLength
  if (missing <= 0) return
  machine.memory.grow(Math.ceil(missing / PAGE))
  Object.assign(machine, viewsOf(machine.memory))
}

/** Places of tables of these sizes (bytes), one after another from TABLES_AT, each on a line of its own. */
export function planRoom(sizes: readonly number[]): { starts: number[]; bytes: number } {
  let at = TABLES_AT
  const starts = sizes.map((size) => {
    const start = at
    at += Math.ceil(size / 64) * 64
    return start
  })
  return { starts, bytes: at }
}
