// lampwright completion: a script that makes bash complete what is typed (GNU Bash manual, 8.6 Programmable Completion).
import { EXAMPLES } from './help.ts'
import { EXIT, type Tools, UserError } from './io.ts'
import { type OptionTable, onlyPositional, type Parsed } from './options.ts'

export const COMPLETION_OPTIONS = { help: { type: 'boolean' } } as const

export async function completionCommand(
  parsed: Parsed,
  { io }: Tools,
  tables: ReadonlyMap<string, OptionTable>,
): Promise<number> {
  const shell = onlyPositional(parsed, 'the name of a shell: bash', 'completion')
  if (shell !== 'bash')
    throw new UserError(
      `completion: ${JSON.stringify(shell)} does not fit; expected bash, the only shell it is written for.`,
    )
  io.out(bashScript(tables))
  return EXIT.fine
}

/** One word for each line, so that a name with a space stays one. */
function bashScript(tables: ReadonlyMap<string, OptionTable>): string {
  const commands = [...tables.keys()]
  const values = [...tables].flatMap(([command, table]) =>
    Object.entries(table).flatMap(([name, { value }]) => {
      const words = value === undefined ? null : valueWords(value)
      return words === null ? [] : [`    '${command} --${name}') ${words} ;;`]
    }),
  )
  const options = [...tables].map(
    ([command, table]) =>
      `    ${command}) options='${Object.keys(table)
        .map((name) => `--${name}`)
        .join(' ')}' ;;`,
  )
  return `# Completion of lampwright for bash: source this file, or put it where bash-completion looks.
_lampwright() {
  local IFS=$'\\n' now=\${COMP_WORDS[COMP_CWORD]} before=\${COMP_WORDS[COMP_CWORD - 1]} command=\${COMP_WORDS[1]}
  local words='' options='' files=
  if [ "$COMP_CWORD" -eq 1 ]; then
    words='${[...commands, '--help', '--version'].join(' ')}'
    COMPREPLY=($(compgen -W "\${words// /$'\\n'}" -- "$now"))
    return
  fi
  case "$command $before" in
${values.join('\n')}
    'completion completion') words='bash' ;;
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

/** What follows such an option, as an assignment of bash; null where only its user can know. */
function valueWords(value: string): string | null {
  if (value.includes('|') && !value.includes('FILE')) return `words='${value.split('|').join(' ')}'`
  if (value === 'EXAMPLE') return `words='${EXAMPLES.join(' ')}'`
  return /^(FILE|PATH$)/.test(value) ? 'files=any' : `words=''`
}
