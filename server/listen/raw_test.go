package listen

import (
	"bytes"
	"io"
	"net"
	"testing"
	"time"

	"golang.org/x/net/http2"
	"golang.org/x/net/http2/hpack"

	lixiviumv1 "lixivium.example/proto/lixivium/v1"
)

// raw speaks HTTP/2 by hand, to do what no gRPC client does.
type raw struct {
	*http2.Framer
	net.Conn
	t      *testing.T
	block  bytes.Buffer
	encode *hpack.Encoder
}

// rawClient connects; everything it reads and writes is over within ten seconds.
func rawClient(t *testing.T, s *Server) *raw {
	t.Helper()
	conn, err := net.Dial("tcp", s.Address())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { conn.Close() })
	if err := conn.SetDeadline(time.Now().Add(10 * time.Second)); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(conn, http2.ClientPreface); err != nil {
		t.Fatal(err)
	}
	r := &raw{Framer: http2.NewFramer(conn, conn), Conn: conn, t: t}
	r.ReadMetaHeaders = hpack.NewDecoder(4096, nil)
	r.encode = hpack.NewEncoder(&r.block)
	if err := r.WriteSettings(); err != nil {
		t.Fatal(err)
	}
	return r
}

// headers are those of a call of Formulate.
func (r *raw) headers(more ...string) []byte {
	r.block.Reset()
	fields := append([]string{":method", "POST", ":scheme", "http", ":path", lixiviumv1.FormulationService_Formulate_FullMethodName,
		":authority", "localhost", "content-type", "application/grpc", "te", "trailers"}, more...)
	for i := 0; i < len(fields); i += 2 {
		_ = r.encode.WriteField(hpack.HeaderField{Name: fields[i], Value: fields[i+1]}) // into memory
	}
	return r.block.Bytes()
}

// open begins a call.
func (r *raw) open(stream uint32, more ...string) error {
	return r.WriteHeaders(http2.HeadersFrameParam{StreamID: stream, BlockFragment: r.headers(more...), EndHeaders: true})
}

// status reads until a stream ends and gives its gRPC status and message.
func (r *raw) status(stream uint32) (code, message string) {
	r.t.Helper()
	for {
		frame, err := r.ReadFrame()
		if err != nil {
			r.t.Fatalf("the connection ended without a status: %v", err)
		}
		if h, ok := frame.(*http2.MetaHeadersFrame); ok && h.StreamID == stream && h.StreamEnded() {
			for _, f := range h.Fields {
				switch f.Name {
				case "grpc-status":
					code = f.Value
				case "grpc-message":
					message = f.Value
				}
			}
			return code, message
		}
	}
}
