// lampwright completion: a script that makes a shell complete what is typed (GNU Bash manual, 8.6 Programmable Completion;
// The Z Shell Manual: Completion System, Autoloaded files; Completion Builtin Commands, compadd).
import { EXAMPLES } from './help.ts'
import { EXIT, type Tools, UserError } from './io.ts'
import { type OptionTable, onlyPositional, type Parsed } from './options.ts'

export const COMPLETION_OPTIONS = { help: { type: 'boolean' } } as const

export async function completionCommand(
  parsed: Parsed,
  { io }: Tools,
  tables: ReadonlyMap<string, OptionTable>,
): Promise<number> {
  const shell = onlyPositional(parsed, 'the name of a shell: bash or zsh', 'completion')
  const script = SCRIPTS.get(shell)
  if (!script)
    throw new UserError(`completion: ${JSON.stringify(shell)} does not fit; expected ${SHELLS.join(' or ')}.`)
  io.out(script(tables))
  return EXIT.fine
}

type Tables = ReadonlyMap<string, OptionTable>
const SCRIPTS: ReadonlyMap<string, (tables: Tables) => string> = new Map([
  ['bash', bashScript],
  ['zsh', zshScript],
])
const SHELLS = [...SCRIPTS.keys()]

/** One word for each line, so that a name with a space stays one. */
function bashScript(tables: Tables): string {
  const values = valueCases(tables, (words) => (words === 'files' ? 'files=any' : `words='${words.join(' ')}'`))
  const options = optionCases(tables, (words) => `options='${words}'`)
  return `# Completion of lampwright for bash: source this file, or put it where bash-completion looks.
_lampwright() {
  local IFS=$'\\n' now=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD - 1]} command=\${COMP_WORDS[1]}
  local words='' options='' files=
  if [ "$COMP_CWORD" -eq 1 ]; then
    words='${[...tables.keys(), '--help', '--version'].join(' ')}'
    COMPREPLY=($(compgen -W "\${words// /$'\\n'}" -- "$now"))
    return
  fi
  case "$command $before" in
${values.join('\n')}
    'completion completion') words='${SHELLS.join(' ')}' ;;
    *) files=none ;;
  esac
  if [ "$files" = none ]; then
    case $command in
${options.map((line) => `  ${line}`).join('\n')}
    esac
    if [ "\${now:0:1}" = - ]; then
      words=$options
    else
      words='${EXAMPLES.join(' ')}'
      files=any
    fi
  fi
  COMPREPLY=($(compgen -W "\${words// /$'\\n'}" -- "$now"))
  if [ "$files" = any ]; then COMPREPLY+=($(compgen -f -- "$now")); fi
}
complete -o filenames -F _lampwright lampwright
`
}

/** The same for zsh: `words`, `CURRENT` and `compadd` are its own. */
function zshScript(tables: Tables): string {
  const values = valueCases(tables, (words) =>
    [...(words === 'files' ? ['_files'] : words.length > 0 ? [`compadd -- ${words.join(' ')}`] : []), 'return'].join(
      '; ',
    ),
  )
  const options = optionCases(tables, (words) => `options=(${words})`)
  return `#compdef lampwright
# Completion of lampwright for zsh: source this file after compinit, or put it as _lampwright into a folder of fpath.
_lampwright() {
  local -a options
  local command=\${words[2]} before=\${words[CURRENT-1]} now=\${words[CURRENT]}
  if (( CURRENT == 2 )); then
    compadd -- ${[...tables.keys(), '--help', '--version'].join(' ')}
    return
  fi
  case "$command $before" in
${values.join('\n')}
    'completion completion') compadd -- ${SHELLS.join(' ')}; return ;;
  esac
  if [[ $now == -* ]]; then
    case $command in
${options.map((line) => `  ${line}`).join('\n')}
    esac
    compadd -- $options
  else
    compadd -- ${EXAMPLES.join(' ')}
    _files
  fi
}
if [[ $funcstack[1] == _lampwright ]]; then _lampwright "$@"; else compdef _lampwright lampwright; fi
`
}

/** What follows each option that takes a value, as cases of a shell's own statement. */
function valueCases(tables: Tables, statement: (words: readonly string[] | 'files') => string): string[] {
  return [...tables].flatMap(([command, table]) =>
    Object.entries(table).flatMap(([name, { value }]) =>
      value === undefined ? [] : [`    '${command} --${name}') ${statement(valueWords(value))} ;;`],
    ),
  )
}

const optionCases = (tables: Tables, statement: (words: string) => string): string[] =>
  [...tables].map(
    ([command, table]) =>
      `    ${command}) ${statement(
        Object.keys(table)
          .map((name) => `--${name}`)
          .join(' '),
      )} ;;`,
  )

/** What fits after such an option; none where only its user can know. */
function valueWords(value: string): readonly string[] | 'files' {
  if (value.includes('|') && !value.includes('FILE')) return value.split('|')
  if (value === 'EXAMPLE') return EXAMPLES
  return /^(FILE|PATH$)/.test(value) ? 'files' : []
}
