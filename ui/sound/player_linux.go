package sound

import (
	"errors"
	"io"
	"os/exec"
	"strconv"
)

// players that take raw samples from a pipe, the best first, and how they are told what they get.
var players = [][]string{
	{"pw-cat", "--playback", "--raw", "--format=s16", "--channels=1", "--rate=" + strconv.Itoa(Rate), "--latency=60ms", "-"},
	{"paplay", "--raw", "--format=s16le", "--channels=1", "--rate=" + strconv.Itoa(Rate), "--latency-msec=60"},
	{"aplay", "-q", "-t", "raw", "-f", "S16_LE", "-c", "1", "-r", strconv.Itoa(Rate), "--buffer-time=80000", "-"},
}

// Available says whether sound can be played, and if not, what is missing.
func Available() error {
	if _, err := find(players); err != nil {
		return err
	}
	return nil
}

func find(players [][]string) ([]string, error) {
	for _, p := range players {
		if path, err := exec.LookPath(p[0]); err == nil {
			return append([]string{path}, p[1:]...), nil
		}
	}
	return nil, errors.New("no sound player is installed: pw-cat (package pipewire-bin), paplay (pulseaudio-utils) or aplay (alsa-utils)")
}

// Open starts the system's player.
func Open() (io.WriteCloser, error) {
	p, err := find(players)
	if err != nil {
		return nil, err
	}
	return start(p)
}

func start(command []string) (io.WriteCloser, error) {
	c := exec.Command(command[0], command[1:]...)
	in, err := c.StdinPipe()
	if err != nil {
		return nil, err
	}
	if err := c.Start(); err != nil {
		return nil, err
	}
	return &pipe{in, c}, nil
}

type pipe struct {
	io.WriteCloser
	player *exec.Cmd
}

// Close lets the player play out what it has and end.
func (p *pipe) Close() error {
	err := p.WriteCloser.Close()
	return errors.Join(err, p.player.Wait())
}
