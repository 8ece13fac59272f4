// Completion, as bash itself does it, and as printed for zsh; and the uses in --help, held against the options.
import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { allOptions } from '../../src/cli/dispatch.ts'
import { COMMANDS, EXAMPLES } from '../../src/cli/help.ts'
import { parseOptions } from '../../src/cli/options.ts'
import { COMMAND_USES } from '../../src/cli/uses.ts'
import { lampwright } from './kit.ts'

describe('bash', () => {
  let folder: string
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'completion-'))
    const { out, status } = await lampwright(['completion', 'bash'])
    expect(status).toBe(0)
    writeFileSync(join(folder, 'script.bash'), out)
    writeFileSync(join(folder, 'my lamp.json'), '')
  })
  afterAll(() => rmSync(folder, { recursive: true }))

  /** What is offered for the last word. */
  const offered = (...words: string[]): string[] =>
    execFileSync(
      'bash',
      [
        ...['--norc', '-c'],
        `source ./script.bash; COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _lampwright; printf "%s\\n" "\${COMPREPLY[@]}"`,
        ...['bash', 'lampwright', ...words],
      ],
      { cwd: folder, encoding: 'utf8' },
    )
      .split('\n')
      .filter((line) => line !== '')

  test('commands', () => {
    expect(offered('')).toEqual([...COMMANDS, '--help', '--version'])
    expect(offered('p')).toEqual(['parts', 'photometry'])
  })

  test('options and their values', () => {
    expect(offered('trace', 'demo', '--e')).toEqual(['--engine'])
    expect(offered('trace', 'demo', '--engine', '')).toEqual(['cpu', 'gpu', 'auto'])
    expect(offered('draw', 'demo', '--paper', 'L')).toEqual(['Letter'])
    expect(offered('trace', 'demo', '--rays', '')).toEqual([])
    expect(offered('completion', '')).toEqual(['bash', 'zsh'])
  })

  test('examples and files, also one with a space in its name', () => {
    expect(offered('check', '')).toEqual([...EXAMPLES, 'my lamp.json', 'script.bash'])
    expect(offered('check', 'my')).toEqual(['my lamp.json'])
    expect(offered('book', 'demo', '--out', 'my')).toEqual(['my lamp.json'])
  })

  test('another shell is refused in words', async () => {
    expect(await lampwright(['completion', 'tcsh'])).toMatchObject({
      status: 2,
      err: expect.stringContaining('"tcsh" does not fit; expected bash or zsh'),
    })
  })
})

// CI has no zsh: tried by hand in zsh 5.9, sourced and from a folder of fpath.
describe('zsh', () => {
  let script: string
  beforeAll(async () => {
    const { out, status } = await lampwright(['completion', 'zsh'])
    expect(status).toBe(0)
    script = out
  })

  test('is what compinit looks for, and what can be sourced', () => {
    // The Z Shell Manual, Completion System, Autoloaded files (section from memory): the first line names what is completed.
    expect(script.split('\n')[0]).toBe('#compdef lampwright')
    expect(script).toContain('compdef _lampwright lampwright')
  })

  test('every command, with every option of its own', async () => {
    expect(script).toContain(`compadd -- ${COMMANDS.join(' ')} --help --version\n`)
    for (const [command, table] of await allOptions()) {
      const options = Object.keys(table).map((name) => `--${name}`)
      expect(script).toContain(`      ${command}) options=(${options.join(' ')}) ;;\n`)
    }
  })

  test('values of options, files and examples', () => {
    expect(script).toContain(`'trace --engine') compadd -- cpu gpu auto; return ;;`)
    expect(script).toContain(`'draw --out') _files; return ;;`)
    expect(script).toContain(`'trace --rays') return ;;`)
    expect(script).toContain(`compadd -- ${EXAMPLES.join(' ')}\n    _files\n`)
  })
})

describe('--help of each command', () => {
  test.each(COMMANDS)('%s: usage, every option, uses that its options take, exit status', async (command) => {
    const { out, status } = await lampwright([command, '--help'])
    expect(status).toBe(0)
    expect(out).toMatch(new RegExp(`^lampwright ${command} `))
    const table = (await allOptions()).get(command)!
    const described = out.slice(0, out.indexOf('For instance'))
    for (const name of Object.keys(table)) if (name !== 'help') expect(described).toContain(`--${name}`)
    expect(out).toContain('Exit status: 0 fine, ')
    for (const use of COMMAND_USES[command]) {
      const [first, ...words] = use.replace(/ [|>].*$/, '').split(' ')
      expect(first).toBe(command)
      expect(() => parseOptions(words, table)).not.toThrow()
    }
  })
})
