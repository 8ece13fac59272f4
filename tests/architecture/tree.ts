// The files of the project, as the architecture tests see them.
import { execFileSync } from 'node:child_process'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

export const ROOT = dirname(dirname(dirname(fileURLToPath(import.meta.url))))

let known: string[] | undefined
/** Tracked files and those about to be (not ignored), by path below the root, sorted. */
export function files(): string[] {
  known ??= (fromGit() ?? fromDisk('')).sort()
  return known
}

function fromGit(): string[] | null {
  try {
    const args = ['ls-files', '-co', '--exclude-standard', '-z']
    const listed = execFileSync('git', args, { cwd: ROOT, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] })
    return listed.split('\0').filter((path) => path !== '' && existsSync(join(ROOT, path)))
  } catch {
    return null // unpacked from an archive, or no git on this machine
  }
}

const IGNORED = /^(node_modules|dist|coverage|shots|\.git)$|\.log$/

function fromDisk(below: string): string[] {
  return readdirSync(join(ROOT, below), { withFileTypes: true })
    .filter(({ name }) => !IGNORED.test(name))
    .flatMap((entry) => {
      const path = below === '' ? entry.name : `${below}/${entry.name}`
      return entry.isDirectory() ? fromDisk(path) : [path]
    })
}

export const sources = (below: string): string[] =>
  files().filter((path) => path.startsWith(below) && /\.tsx?$/.test(path))

export const textOf = (path: string): string => readFileSync(join(ROOT, path), 'utf8')
