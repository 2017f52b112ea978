# Completion of tiecoat for fish.

function __tiecoat_needs_command
    test (count (commandline -opc)) -eq 1
end

function __tiecoat_in
    contains -- (commandline -opc)[2] $argv
end

complete -c tiecoat -f
complete -c tiecoat -n __tiecoat_needs_command -a check -d 'is each plan sound?'
complete -c tiecoat -n __tiecoat_needs_command -a card -d 'the bench card: times, cups, shopping, air'
complete -c tiecoat -n __tiecoat_needs_command -a versus -d 'what does a change to a recipe change?'
complete -c tiecoat -n __tiecoat_needs_command -a settings -d 'which settings are in force'
complete -c tiecoat -n __tiecoat_needs_command -a rules -d 'list, explain and prove the rules'
complete -c tiecoat -n __tiecoat_needs_command -a look -d 'what the library says of a material'
complete -c tiecoat -n __tiecoat_needs_command -a blank -d 'an empty recipe'
complete -c tiecoat -s h -l help -d 'show help'
complete -c tiecoat -s V -l version -d 'show the version'
complete -c tiecoat -n '__tiecoat_in check card versus settings rules look blank' -s r -l rules -x -a '(__fish_complete_directories)' -d 'lay another rulebook over'
complete -c tiecoat -n '__tiecoat_in check card versus settings rules look blank' -s o -l output -r -F -d 'write to a file'
complete -c tiecoat -n '__tiecoat_in check card versus settings rules look blank' -l color -x -a 'auto always never' -d 'colour'
complete -c tiecoat -n '__tiecoat_in check card versus settings' -F
complete -c tiecoat -n '__tiecoat_in check' -s f -l format -x -a 'text line json jsonl sarif junit' -d 'form of the report'
complete -c tiecoat -n '__tiecoat_in check card versus' -s a -l at-least -x -a 'note warning error' -d 'weight for status 1'
complete -c tiecoat -n '__tiecoat_in check' -s q -l quiet -d 'only what was found'
complete -c tiecoat -n '__tiecoat_in check' -s j -l jobs -x -d 'files at once'
complete -c tiecoat -n '__tiecoat_in check' -l include -x -d 'of folders take files that fit'
complete -c tiecoat -n '__tiecoat_in check' -l exclude -x -d 'leave out what fits'
complete -c tiecoat -n '__tiecoat_in check' -s T -l files-from -r -F -d 'check the paths in a file'
complete -c tiecoat -n '__tiecoat_in check' -s 0 -l null -d 'those paths end in NUL'
complete -c tiecoat -n '__tiecoat_in check' -l ledger -r -F -d 'leave out known findings'
complete -c tiecoat -n '__tiecoat_in check' -l write-ledger -d 'write the ledger'
complete -c tiecoat -n '__tiecoat_in check card versus' -l no-settings -d 'take no notice of settings'
complete -c tiecoat -n '__tiecoat_in rules' -l fields -d 'all that a rule can ask'
complete -c tiecoat -n '__tiecoat_in rules' -l verify -d 'prove the rulebook'
complete -c tiecoat -n '__tiecoat_in rules' -l coverage -d 'what is known of which pair'
complete -c tiecoat -n '__tiecoat_in rules' -s f -l format -x -a 'text html' -d 'form of --coverage'
complete -c tiecoat -n '__tiecoat_in rules' -l code -x -d 'the compiled form of a rule'
complete -c tiecoat -n '__tiecoat_in versus settings' -s f -l format -x -a 'text json' -d 'form'
complete -c tiecoat -n '__tiecoat_in card' -s f -l format -x -a 'text html ical csv json' -d 'form of the card'
complete -c tiecoat -n '__tiecoat_in card' -l start -x -d 'when the work begins'
complete -c tiecoat -n '__tiecoat_in card' -l zone -x -d 'time zone of all hours'
