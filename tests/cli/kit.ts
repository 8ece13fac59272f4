// The command line with its world replaced: what it prints is kept, and no ray is traced.
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import { dispatch } from '../../src/cli/dispatch.ts'
import type { Tracer } from '../../src/cli/io.ts'
import type { Sheet } from '../../src/job/sheet.ts'
import type { Lamp } from '../../src/lamp/schema.ts'
import { fakeSheet } from '../kit/fakeSheet.ts'

export interface Ran {
  status: number
  out: string
  err: string
  /** What the tracer was asked for; null when it was not called. */
  asked: { lamp: Lamp; options: Parameters<Tracer>[1] } | null
}

export async function lampwright(
  args: string[],
  { columns = null, change = (s) => s }: { columns?: number | null; change?: (sheet: Sheet) => Sheet } = {},
): Promise<Ran> {
  const ran: Ran = { status: -1, out: '', err: '', asked: null }
  const trace: Tracer = async (lamp, options, onProgress) => {
    ran.asked = { lamp, options }
    onProgress?.({ rays: options.maxRays / 2, maxRays: options.maxRays })
    return change({ ...fakeSheet(lamp), seed: options.seed, rays: options.maxRays, threads: options.threads })
  }
  const io = {
    out(text: string) {
      ran.out += text
    },
    err(text: string) {
      ran.err += text
    },
    errColumns: columns,
  }
  ran.status = await dispatch(args, { io, trace })
  return ran
}

/** An empty folder that goes when the test ends. */
export function scratch(): string {
  const folder = mkdtempSync(join(tmpdir(), 'lampwright-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}
