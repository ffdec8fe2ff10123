package line

import "strings"

// shells are the shells there is a script for.
var shells = map[string]string{"bash": bash, "zsh": zsh, "fish": fish, "powershell": powershell}

// Script is what makes a shell ask the program to complete its words; false for a shell
// that is not known.
func (c *Command) Script(shell string) (string, bool) {
	script, ok := shells[shell]
	return strings.ReplaceAll(script, "PROGRAM", c.Name()), ok
}

// Each script asks with the words up to the cursor and reads lines of a word, a tab and a
// description, then one of a colon and the directive.

const bash = `# Completion of PROGRAM in bash; it needs bash-completion.
_PROGRAM_complete() {
    local cur prev words cword line tab=$'\t' directive='' value=''
    local -a offers=() about=()
    COMPREPLY=()
    _get_comp_words_by_ref -n '=:' cur prev words cword || return
    while IFS= read -r line; do
        case $line in
            :[0-9]*) directive=${line#:} ;;
            *) offers+=("${line%%"$tab"*}"); about+=("$line") ;;
        esac
    done < <("${words[0]}" __complete "${words[@]:1:cword-1}" "$cur" 2>/dev/null)
    value=$cur
    [[ $cur == --*=* ]] && value=${cur#*=}
    local i
    for i in "${!offers[@]}"; do
        [[ ${offers[i]} == "$value"* ]] || continue
        if [[ $COMP_TYPE == 63 && ${about[i]} == *"$tab"* ]]; then
            COMPREPLY+=("${offers[i]}  (${about[i]#*"$tab"})")
        else
            COMPREPLY+=("${offers[i]}")
        fi
    done
    case ${#COMPREPLY[@]} in
        0) [[ $directive == 0 ]] && compopt -o default ;;
        1)
            line=${COMPREPLY[0]%%  (*}
            printf -v line %q "$line"
            COMPREPLY=("$line")
            ;;
    esac
    if [[ $cur == *:* && ${COMP_WORDBREAKS-} == *:* ]]; then
        COMPREPLY=("${COMPREPLY[@]#"${cur%"${cur##*:}"}"}")
    fi
}
complete -F _PROGRAM_complete PROGRAM
`

const zsh = `#compdef PROGRAM
# Completion of PROGRAM in zsh.
_PROGRAM() {
    local -a lines offers
    local line word directive
    lines=("${(@f)$(${(Q)words[1]} __complete "${(@Q)words[2,CURRENT-1]}" "${(Q)words[CURRENT]}" 2>/dev/null)}")
    directive=${lines[-1]#:}
    for line in "${(@)lines[1,-2]}"; do
        word=${line%%$'\t'*}
        word=${word//:/\\:}
        if [[ $line == *$'\t'* ]]; then
            word+=:${line#*$'\t'}
        fi
        offers+=("$word")
    done
    [[ $PREFIX == --*=* ]] && compset -P '*='
    if (( $#offers )); then
        _describe PROGRAM offers
    elif [[ $directive == 0 ]]; then
        _files
    fi
}
if [[ $funcstack[1] == _PROGRAM ]]; then
    _PROGRAM "$@"
else
    compdef _PROGRAM PROGRAM
fi
`

const fish = `# Completion of PROGRAM in fish.
function __PROGRAM_offers
    set -l typed (commandline -opc)
    set -l current (commandline -ct)
    set -l lines ($typed[1] __complete $typed[2..-1] "$current" 2>/dev/null)
    test (count $lines) -gt 0; or return
    set -l before (string match -r -- '^--[^=]+=' "$current")
    if test (count $lines) -gt 1
        for line in $lines[1..-2]
            echo "$before$line"
        end
    else if test "$lines[1]" = ':0'
        __fish_complete_path "$current"
    end
end
complete -c PROGRAM -f -a '(__PROGRAM_offers)'
`

const powershell = `# Completion of PROGRAM in PowerShell.
Register-ArgumentCompleter -Native -CommandName PROGRAM -ScriptBlock {
    param($wordToComplete, $commandAst, $cursorPosition)
    $typed = @($commandAst.CommandElements | Select-Object -Skip 1 |
        Where-Object { $_.Extent.StartOffset -lt $cursorPosition } |
        ForEach-Object { if ($_.PSObject.Properties['Value']) { "$($_.Value)" } else { $_.Extent.Text } })
    if ($wordToComplete -eq '') {
        $lines = @(& PROGRAM __completeEmpty @typed 2>$null)
    } else {
        $lines = @(& PROGRAM __complete @typed 2>$null)
    }
    $before = ''
    $value = $wordToComplete
    if ($wordToComplete -match '^(--[^=]+=)(.*)$') { $before = $Matches[1]; $value = $Matches[2] }
    foreach ($line in $lines) {
        if ($line -match '^:[0-9]+$') { continue }
        $word, $about = $line -split [char]9, 2
        if (-not $word.StartsWith($value)) { continue }
        if (-not $about) { $about = $word }
        $text = $before + $word
        if ($text -match '\s') { $text = "'" + $text.Replace("'", "''") + "'" }
        [System.Management.Automation.CompletionResult]::new($text, $word, 'ParameterValue', $about)
    }
}
`
