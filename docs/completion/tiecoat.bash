# Completion of tiecoat for bash.

_tiecoat() {
	local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} command=${COMP_WORDS[1]} i
	COMPREPLY=()
	if [ "$COMP_CWORD" -eq 1 ]; then
		mapfile -t COMPREPLY < <(compgen -W 'check card bite versus settings rules look blank schema --help --version' -- "$word")
		return
	fi
	# `--format=js` comes as three words where = parts them
	if [ "$before" = = ] && [ "$COMP_CWORD" -ge 2 ]; then
		before=${COMP_WORDS[COMP_CWORD - 2]}
	elif [ "$word" = = ]; then
		word=
	fi
	case $before in
	-f | --format)
		local forms='text line json jsonl sarif junit'
		[ "$command" = bite ] && forms='text json svg'
		[ "$command" = card ] && forms='text html ical csv json'
		[ "$command" = versus ] || [ "$command" = settings ] && forms='text json'
		mapfile -t COMPREPLY < <(compgen -W "$forms" -- "$word")
		return
		;;
	-p | --pass) mapfile -t COMPREPLY < <(compgen -W 'mist light medium wet' -- "$word"); return ;;
	-s | --shelf | --svg) mapfile -t COMPREPLY < <(compgen -f -- "$word"); return ;;
	-a | --at-least) mapfile -t COMPREPLY < <(compgen -W 'note warning error' -- "$word"); return ;;
	--color) mapfile -t COMPREPLY < <(compgen -W 'auto always never' -- "$word"); return ;;
	-r | --rules) mapfile -t COMPREPLY < <(compgen -d -- "$word"); return ;;
	-o | --output) mapfile -t COMPREPLY < <(compgen -f -- "$word"); return ;;
	-j | --jobs | --include | --exclude | --start) return ;;
	--zone) mapfile -t COMPREPLY < <(compgen -W "$(awk '!/^#/ { print $3 }' /usr/share/zoneinfo/zone1970.tab 2>/dev/null)" -- "$word"); return ;;
	-T | --files-from | --ledger) mapfile -t COMPREPLY < <(compgen -f -- "$word"); return ;;
	--code) _tiecoat_rules "$word"; return ;;
	esac
	case $word in
	-*)
		local options='--help --version --rules --output --color'
		case $command in
		check)
			options="$options --format --at-least --quiet --jobs --include --exclude --files-from --null"
			options="$options --ledger --write-ledger --no-settings"
			;;
		versus) options="$options --format --at-least --no-settings" ;;
		settings) options="$options --format" ;;
		card) options="$options --format --at-least --no-settings --start --zone" ;;
		bite)
			options="$options --format --shelf --pass --wet-film --coats --flash --thin --time"
			options="$options --temperature --humidity --air-speed --stressed --svg"
			;;
		rules) options="$options --fields --verify --coverage --format --code" ;;
		esac
		mapfile -t COMPREPLY < <(compgen -W "$options" -- "$word")
		return
		;;
	esac
	case $command in
	check | card | versus | settings) mapfile -t COMPREPLY < <(compgen -f -- "$word") ;;
	schema) mapfile -t COMPREPLY < <(compgen -W 'recipe shelf settings rulebook' -- "$word") ;;
	rules)
		for i in "${COMP_WORDS[@]}"; do
			if [ "$i" = --verify ]; then
				mapfile -t COMPREPLY < <(compgen -f -- "$word")
				return
			fi
		done
		_tiecoat_rules "$word"
		;;
	esac
}

# Ids of rules: the lines of the list that hold one word and are indented by two.
_tiecoat_rules() {
	mapfile -t COMPREPLY < <(compgen -W "$(tiecoat rules --color=never 2>/dev/null | sed -n 's/^  \([a-z0-9-]*\)$/\1/p')" -- "$1")
}

complete -o filenames -F _tiecoat tiecoat
