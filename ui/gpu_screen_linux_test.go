package ui

import (
	"errors"
	"fmt"
	"image"
	"image/color"
	"runtime"
	"time"
	"unsafe"

	"gioui.org/gpu"
	"gioui.org/gpu/headless"
	"gioui.org/op"
	"github.com/ebitengine/purego"
)

// A surface is somewhere to draw frames. Frame hands one over, wait returns when all that were handed over are drawn.
type surface interface {
	frame(*op.Ops) error
	wait() error
}

// thrown is the toolkit's headless renderer. It makes its context current anew for every call, on a thread that is thrown away
// after it; there are drivers to which that alone is forty milliseconds.
type thrown struct {
	*headless.Window
	one *image.RGBA
}

func (s thrown) frame(ops *op.Ops) error { return s.Frame(ops) }

func (s thrown) wait() error { return s.Screenshot(s.one) }

// held is the toolkit's renderer on a context that stays with one thread, as a window's does. It is made of the same parts as the
// headless one: EGL's default display, no surface, a picture in linear light to draw into.
type held struct {
	gpu    gpu.GPU
	target gpu.OpenGLRenderTarget
	size   image.Point

	begin, end func()               // of a count of what the card is at work; nil where the driver doesn't count
	spent      func() time.Duration // counted

	display, context uintptr
	makeCurrent      func(display, draw, read, context uintptr) uint32
	destroy          func(display, context uintptr) uint32
	finish           func()
}

// newHeld keeps the calling goroutine on its thread until release.
func newHeld(size image.Point) (*held, error) {
	egl, err := purego.Dlopen("libEGL.so.1", purego.RTLD_NOW|purego.RTLD_GLOBAL)
	if err != nil {
		return nil, err
	}
	gl, err := purego.Dlopen("libGLESv2.so.2", purego.RTLD_NOW|purego.RTLD_GLOBAL)
	if err != nil {
		return nil, err
	}
	h := &held{size: size}
	var (
		getDisplay     func(native uintptr) uintptr
		initialize     func(display uintptr, major, minor *int32) uint32
		chooseConfig   func(display uintptr, want *int32, out *uintptr, n int32, found *int32) uint32
		createContext  func(display, config, share uintptr, want *int32) uintptr
		genFramebuffer func(n int32, out *uint32)
		genTextures    func(n int32, out *uint32)
		bindTexture    func(target, texture uint32)
		texStorage     func(target uint32, levels int32, format uint32, width, height int32)
		bindFrame      func(target, framebuffer uint32)
		attach         func(target, place, kind, texture uint32, level int32)
		status         func(target uint32) uint32
	)
	for name, f := range map[string]any{"eglGetDisplay": &getDisplay, "eglInitialize": &initialize, "eglChooseConfig": &chooseConfig,
		"eglCreateContext": &createContext, "eglMakeCurrent": &h.makeCurrent, "eglDestroyContext": &h.destroy} {
		purego.RegisterLibFunc(f, egl, name)
	}
	for name, f := range map[string]any{"glGenFramebuffers": &genFramebuffer, "glGenTextures": &genTextures, "glBindTexture": &bindTexture,
		"glTexStorage2D": &texStorage, "glBindFramebuffer": &bindFrame, "glFramebufferTexture2D": &attach,
		"glCheckFramebufferStatus": &status, "glFinish": &h.finish} {
		purego.RegisterLibFunc(f, gl, name)
	}
	const (
		none, renderable, es2, clientVersion      = 0x3038, 0x3040, 0x4, 0x3098
		texture2D, srgb8Alpha8, framebuffer       = 0x0DE1, 0x8C43, 0x8D40
		colourAttachment, framebufferComplete int = 0x8CE0, 0x8CD5
	)
	runtime.LockOSThread()
	h.display = getDisplay(0)
	var major, minor, found int32
	if h.display == 0 || initialize(h.display, &major, &minor) == 0 {
		runtime.UnlockOSThread()
		return nil, errors.New("EGL has no display")
	}
	var config uintptr
	chooseConfig(h.display, &[]int32{renderable, es2, none}[0], &config, 1, &found)
	h.context = createContext(h.display, config, 0, &[]int32{clientVersion, 3, none}[0])
	if h.context == 0 || h.makeCurrent(h.display, 0, 0, h.context) == 0 {
		runtime.UnlockOSThread()
		return nil, errors.New("EGL gives no context without a surface")
	}
	var texture, frame uint32
	genTextures(1, &texture)
	bindTexture(texture2D, texture)
	texStorage(texture2D, 1, srgb8Alpha8, int32(size.X), int32(size.Y))
	genFramebuffer(1, &frame)
	bindFrame(framebuffer, frame)
	attach(framebuffer, uint32(colourAttachment), texture2D, texture, 0)
	if s := status(framebuffer); s != uint32(framebufferComplete) {
		h.release()
		return nil, fmt.Errorf("nothing can be drawn into a picture of %v: %#x", size, s)
	}
	h.target.V = uint(frame)
	h.countWork(egl)
	if h.gpu, err = gpu.New(gpu.OpenGL{ES: true}); err != nil {
		h.release()
		return nil, err
	}
	return h, nil
}

// countWork has the driver count what the card itself works, by EXT_disjoint_timer_query.
func (h *held) countWork(egl uintptr) {
	var address func(name string) uintptr
	purego.RegisterLibFunc(&address, egl, "eglGetProcAddress")
	const elapsed, result = 0x88BF, 0x8866
	var (
		gen    func(n int32, out *uint32)
		remove func(n int32, in *uint32)
		begin  func(kind, query uint32)
		end    func(kind uint32)
		get    func(query, what uint32, out unsafe.Pointer)
	)
	for _, c := range []struct {
		name string
		f    any
	}{{"glGenQueriesEXT", &gen}, {"glDeleteQueriesEXT", &remove}, {"glBeginQueryEXT", &begin}, {"glEndQueryEXT", &end},
		{"glGetQueryObjectui64vEXT", &get}} {
		at := address(c.name)
		if at == 0 {
			return
		}
		purego.RegisterFunc(c.f, at)
	}
	query := new(uint32)
	h.begin = func() {
		gen(1, query)
		begin(elapsed, *query)
	}
	h.end = func() { end(elapsed) }
	h.spent = func() time.Duration {
		ns := new(uint64)
		get(*query, result, unsafe.Pointer(ns))
		remove(1, query)
		return time.Duration(*ns)
	}
}

func (h *held) frame(ops *op.Ops) error {
	h.gpu.Clear(color.NRGBA{})
	return h.gpu.Frame(ops, h.target, h.size)
}

func (h *held) wait() error {
	h.finish()
	return nil
}

func (h *held) release() {
	if h.gpu != nil {
		h.gpu.Release()
	}
	h.makeCurrent(h.display, 0, 0, 0)
	h.destroy(h.display, h.context)
	runtime.UnlockOSThread()
}
