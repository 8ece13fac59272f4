// A graphics device that computes nothing: for what happens around the computing. What is read back from it is zero by default.
import { type Machine, machineOf } from '../../src/engine/gpu/device.ts'

export interface FakeDevice {
  device: GPUDevice
  machine: Machine
  /** The driver takes it away. */
  lose(message: string): void
  /** The driver complains of something that nobody waits for. */
  complain(message: string): void
  destroyed(): boolean
  /** Buffers made so far. */
  made(): number
}

export interface FakeOptions {
  name?: string
  /** Before submitted work is done. */
  beforeDone?: () => void
  /** Larger buffers find no room. */
  mostBytes?: number
  /** What stands in a buffer that is read back. */
  fill?: (bytes: ArrayBuffer) => void
  /** It has a clock of its own. */
  clock?: boolean
}

const INFO = { vendor: 'fake', architecture: '', device: '', description: '', isFallbackAdapter: false }

export function fakeDevice({
  name = 'fake',
  beforeDone,
  mostBytes = 2 ** 28,
  fill,
  clock = false,
}: FakeOptions = {}): FakeDevice {
  let lost: (info: { reason: string; message: string }) => void = () => {}
  let complained: (event: { error: { message: string } }) => void = () => {}
  let destroyed = false
  let made = 0
  const scopes: (object | null)[] = []
  const pass = { setPipeline() {}, setBindGroup() {}, dispatchWorkgroups() {}, end() {} }
  const device = {
    limits: {
      maxComputeWorkgroupStorageSize: 2 ** 14,
      maxComputeInvocationsPerWorkgroup: 256,
      maxStorageBufferBindingSize: 2 ** 27,
    },
    lost: new Promise((gone) => {
      lost = gone
    }),
    addEventListener: (_: string, listener: typeof complained) => {
      complained = listener
    },
    destroy() {
      destroyed = true
      lost({ reason: 'destroyed', message: 'destroyed' })
    },
    features: new Set(clock ? ['timestamp-query'] : []),
    createQuerySet: () => ({ destroy() {} }),
    pushErrorScope: () => scopes.push(null),
    popErrorScope: () => Promise.resolve(scopes.pop()),
    createBuffer({ size }: { size: number }) {
      made++
      if (size > mostBytes) scopes[scopes.length - 1] = { message: 'no room' }
      const bytes = new ArrayBuffer(size)
      return {
        size,
        destroy() {},
        mapAsync: () => (destroyed ? Promise.reject(new Error('aborted')) : Promise.resolve()),
        getMappedRange() {
          fill?.(bytes)
          return bytes
        },
        unmap() {},
      }
    },
    createShaderModule: () => ({}),
    createComputePipelineAsync: () => Promise.resolve({ getBindGroupLayout: () => ({}) }),
    createBindGroup: () => ({}),
    createCommandEncoder: () => ({
      beginComputePass: () => pass,
      clearBuffer() {},
      copyBufferToBuffer() {},
      resolveQuerySet() {},
      finish: () => ({}),
    }),
    queue: {
      writeBuffer() {},
      submit() {},
      async onSubmittedWorkDone() {
        beforeDone?.()
      },
    },
  } as unknown as GPUDevice
  const machine = machineOf(device, { ...INFO, description: name } as unknown as GPUAdapterInfo)
  return {
    device,
    machine,
    lose: (message) => lost({ reason: 'unknown', message }),
    complain: (message) => complained({ error: { message } }),
    destroyed: () => destroyed,
    made: () => made,
  }
}
