#!/bin/sh
# Speaks the sentences of the tests with flite (Debian packages flite and sox). The voice is free for any use.
cd "$(dirname "$0")" || exit 1
speak() {
    flite -voice rms -t "$2" -o /tmp/spoken.wav &&
        sox -D /tmp/spoken.wav -r 16000 -c 1 -b 16 "$1.flac" gain -n -6 pad 0.8 0.9
}
speak waste-forty "waste tank is at forty percent"
speak dump "how do i empty the waste tank"
speak next "next step"
speak gas "i smell gas near the back bunks"
speak pizza "we should order pizza for everyone"
