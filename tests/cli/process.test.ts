// The program as it is started: streams, signals, exit status. Slower than the other tests, so few.
import { spawn } from 'node:child_process'
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, onTestFinished, test, vi } from 'vitest'
import { writeLampText } from '../../src/lamp/read.ts'
import { stileLamp } from '../../src/library/demos.ts'
import { ROOT } from '../architecture/tree.ts'
import { amount } from '../kit/amount.ts'
import { sunless } from '../kit/sunless.ts'

// Processes share the machine with every other test.
vi.setConfig({ testTimeout: 180_000 })

const folder = mkdtempSync(join(tmpdir(), 'lampwright-'))
afterAll(() => rmSync(folder, { recursive: true }))
/** Without sun: nine tenths of what a short trace takes. */
const STILE = join(folder, 'stile.lamp.json')
writeFileSync(STILE, writeLampText(sunless(stileLamp())))

interface Ended {
  status: number | null
  signal: string | null
  out: string
  err: string
}

function start(args: string[], { closeOut = false, dyingThreads = 0 } = {}) {
  const preload = {
    DYING_THREADS: `${dyingThreads}`,
    NODE_OPTIONS: `--require ${join(ROOT, 'tests/cli/dyingThreads.cjs')}`,
  }
  const child = spawn(process.execPath, [join(ROOT, 'scripts/lampwright.mjs'), ...args], {
    cwd: ROOT,
    stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
    env: dyingThreads > 0 ? { ...process.env, ...preload } : process.env,
  })
  onTestFinished(() => void child.kill('SIGKILL'))
  const ended: Ended = { status: null, signal: null, out: '', err: '' }
  child.stdout!.on('data', (part) => {
    ended.out += part
  })
  child.stderr!.on('data', (part) => {
    ended.err += part
  })
  if (closeOut) child.stdout!.destroy()
  const end = new Promise<Ended>((resolve) => {
    child.on('close', (status, signal) => resolve({ ...ended, status, signal }))
  })
  /** The first it tells of its work; null when it ends without a word. */
  const reported = new Promise<unknown>((resolve) => {
    child.once('message', resolve)
    child.once('close', () => resolve(null))
  })
  return { child, end, told: reported }
}

const ran = new Map<string, Promise<Ended>>()
/** One start for each number of threads, whoever asks first. */
function tracedOn(threads: string): Promise<Ended> {
  const known = ran.get(threads)
  const end = known ?? start(['trace', STILE, '--json', '--rays', '8192', '--threads', threads]).end
  ran.set(threads, end)
  return end
}

test('trace --json gives one object on stdout and nothing else anywhere', async () => {
  const { status, out, err } = await tracedOn('2')
  expect({ status, err }).toEqual({ status: 0, err: '' })
  expect(out.trim().split('\n')).toHaveLength(1)
  const sheet = JSON.parse(out)
  expect(sheet).toMatchObject({ lamp: 'Stile lamp', rays: 8192, seed: 1, threads: 2, engine: 'cpu' })
  const shares = Object.values(sheet.ledger) as number[]
  expect(shares.reduce((a, b) => a + b, 0)).toBeCloseTo(1, 9)
})

test('the same seed gives the same figures, however many threads', async () => {
  const of = async (threads: string) => {
    const { figures, ledger, hotSpots } = JSON.parse((await tracedOn(threads)).out)
    return { figures, ledger, hotSpots }
  }
  const none = await of('0')
  for (const threads of amount(['2'], ['1', '2'])) expect(await of(threads)).toEqual(none)
})

test('an error is one sentence on stderr and status 2', async () => {
  expect(await start(['trace', 'no-such-lamp']).end).toEqual({
    status: 2,
    signal: null,
    out: '',
    err: 'No file or example called no-such-lamp.\n',
  })
})

test('a pipe that closes early is no crash, and no success', async () => {
  for (const args of [['--help'], ['trace', STILE, '--json', '--rays', '1024'], [...SWEEP, '--threads', '0']]) {
    const { status, signal, err } = await start(args, { closeOut: true }).end
    expect({ status, signal, err }).toEqual({ status: 2, signal: null, err: '' })
  }
})

const SWEEP = ['sweep', 'bench-check', '--vary', 'lens.zMm=190,210', '--rays', '1024', '--csv', '-']

test('a sweep is the same table on no thread and on two', async () => {
  const none = await start([...SWEEP, '--threads', '0']).end
  expect({ status: none.status, err: none.err, rows: none.out.split('\r\n').length }).toEqual({
    status: 0,
    err: '',
    rows: 4,
  })
  expect((await start([...SWEEP, '--threads', '2']).end).out).toBe(none.out)
})

describe('stopping it', () => {
  test.each([['0'], ['2']])(
    'SIGINT during a trace on %s threads ends with status 130 and nothing printed',
    async (threads) => {
      const { child, end, told: reported } = start(['trace', 'demo', '--rays', '1e9', '--threads', threads])
      expect(await reported).toEqual({ done: expect.any(Number), all: 1e9 })
      child.kill('SIGINT')
      expect(await end).toEqual({ status: 130, signal: null, out: '', err: '' })
    },
  )
})

describe('threads that die', () => {
  /** A thread that is ended from outside has the status 0 or 1, by what it was doing. */
  const ended = (name: string) =>
    new RegExp(`^Nothing was computed to its end: ${name} stopped: it ended with status [01]\\.\n$`)

  test.each([
    ['trace', ['trace', STILE]],
    ['danger', ['danger', 'stile-lamp', '--json']],
    ['heat', ['heat', 'stile-lamp']],
    ['check', ['check', 'stile-lamp']],
  ])('all of them, in %s: one sentence, status 2, and nothing on stdout', async (_, args) => {
    const { status, out, err } = await start(args, { dyingThreads: 100 }).end
    expect({ status, out }).toEqual({ status: 2, out: '' })
    expect(err).toMatch(ended('A tracing worker'))
  })

  test('in a sweep: the same, and no file that looks like an empty result', async () => {
    const csv = join(folder, 'range.csv')
    const axis = 'lens.zMm=190:200:40'
    const args = ['sweep', 'bench-check', '--vary', axis, '--rays', '1024', '--threads', '2', '--csv', csv]
    const { status, out, err } = await start(args, { dyingThreads: 1 }).end
    expect({ status, out }).toEqual({ status: 2, out: '' })
    expect(err).toMatch(ended('A worker of the sweep'))
    expect(existsSync(csv)).toBe(false)
  })

  test('one of two: the other does its work, to the same bits', async () => {
    const args = ['trace', STILE, '--json', '--rays', '8192', '--threads', '2']
    const { status, out, err } = await start(args, { dyingThreads: 1 }).end
    expect({ status, err }).toEqual({ status: 0, err: '' })
    const { figures, ledger, hotSpots } = JSON.parse(out)
    expect({ figures, ledger, hotSpots }).toEqual(
      (({ figures, ledger, hotSpots }) => ({ figures, ledger, hotSpots }))(JSON.parse((await tracedOn('2')).out)),
    )
  })
})
