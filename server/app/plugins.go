package app

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"github.com/rs/zerolog"

	"lixivium.example/engine"
	lixiviumv1 "lixivium.example/proto/lixivium/v1"
	"lixivium.example/server/config"
	"lixivium.example/server/host"
	"lixivium.example/server/policy"
	"lixivium.example/server/translate"
)

// Plugins are additive rules that can be listed and looked after, as package
// host runs them.
type Plugins interface {
	engine.Additives
	// StartAll starts what is not running yet and says what cannot.
	StartAll(context.Context) error
	// Additives are those owned, as far as known.
	Additives() []engine.AdditiveInfo
	// Health tells how each plugin does.
	Health() []host.PluginHealth
	// Missing tells the operator why an additive has no owner.
	Missing(additive string) error
}

// Host makes the host of the plugins that a configuration accepts. It starts
// none. Without plugins it is nil.
func Host(c config.Config, logger zerolog.Logger) (*host.Host, error) {
	if len(c.Plugins) == 0 {
		return nil, nil
	}
	hc := host.Config{Owners: c.Owners, Logger: logger}
	for _, p := range c.Plugins {
		l := host.Line{Name: p.Name, File: p.File, SHA256: p.SHA256, Additives: p.Additives, WatchesFats: p.WatchesFats}
		for _, g := range p.Grants {
			l.Grants = append(l.Grants, engine.Grant(g))
		}
		hc.Plugins = append(hc.Plugins, l)
	}
	return host.New(hc)
}

// Local makes the service in this process from lixivium.yaml: the file named,
// or with an empty name the first of the usual places. A plugin starts when a
// recipe first needs it and stops with the closer.
func Local(file string, logger zerolog.Logger) (Service, io.Closer, error) {
	c, _, err := config.Load(file, config.Places())
	if err != nil {
		return nil, nil, err
	}
	h, err := Host(c, logger)
	if err != nil {
		return nil, nil, err
	}
	o := Options{Logger: logger, DeadlineCeiling: c.DeadlineCeiling}
	if h == nil {
		s, err := New(o)
		return s, io.NopCloser(nil), err
	}
	o.Plugins = h
	s, err := New(o)
	return s, hostCloser{h}, err
}

// closeGrace is how long plugins may take to leave.
const closeGrace = 3 * time.Second

type hostCloser struct{ host *host.Host }

func (c hostCloser) Close() error {
	ctx, cancel := context.WithTimeout(context.Background(), closeGrace)
	defer cancel()
	return c.host.Close(ctx)
}

// Inspect runs a plugin file that nobody accepted yet and gives the entry that
// would accept it under "plugins:" in lixivium.yaml. The file runs with the
// rights of the caller.
func Inspect(ctx context.Context, file string) (string, error) {
	l, err := host.Inspect(ctx, host.Config{}, file)
	if err != nil {
		return "", fmt.Errorf("%s: %w", file, err)
	}
	return l.YAML(), nil
}

func (s *service) ListAdditives(ctx context.Context, q *lixiviumv1.ListAdditivesRequest) (*lixiviumv1.ListAdditivesResponse, error) {
	return policy.Run(ctx, &s.policy, "ListAdditives", q, func(ctx context.Context, q *lixiviumv1.ListAdditivesRequest) (*lixiviumv1.ListAdditivesResponse, error) {
		if s.plugins == nil {
			return &lixiviumv1.ListAdditivesResponse{}, nil
		}
		s.wake(ctx)
		return translate.Additives(s.plugins.Additives(), q.GetNameContains()), nil
	})
}

func (s *service) ListPlugins(ctx context.Context, q *lixiviumv1.ListPluginsRequest) (*lixiviumv1.ListPluginsResponse, error) {
	return policy.Run(ctx, &s.policy, "ListPlugins", q, func(ctx context.Context, _ *lixiviumv1.ListPluginsRequest) (*lixiviumv1.ListPluginsResponse, error) {
		if s.plugins == nil {
			return &lixiviumv1.ListPluginsResponse{}, nil
		}
		s.wake(ctx)
		return translate.Plugins(statuses(s.plugins.Health())), nil
	})
}

// ownerless logs why an additive has no owner here: its plugin may be named in
// lixivium.yaml and not have got as far as saying what it owns. The caller hears
// only that nobody owns it.
func (s *service) ownerless(err error) {
	var missing *engine.MissingOwner
	if s.plugins == nil || !errors.As(err, &missing) {
		return
	}
	if why := s.plugins.Missing(missing.Additive); why != nil {
		s.policy.Logger.Warn().Err(why).Str("additive", missing.Additive).Msg("an additive has no owner")
	}
}

// wake starts plugins that nobody needed yet, so that lists are whole. What
// cannot start shows in its health.
func (s *service) wake(ctx context.Context) {
	if err := s.plugins.StartAll(ctx); err != nil {
		s.policy.Logger.Warn().Err(err).Msg("plugins that cannot start")
	}
}

func statuses(list []host.PluginHealth) []translate.PluginStatus {
	out := make([]translate.PluginStatus, len(list))
	for i, p := range list {
		out[i] = translate.PluginStatus{
			Name: p.Name, Version: p.Version, Digest: p.Digest, State: string(p.State), LastTrouble: p.LastReason,
			Grants: p.Grants, Additives: p.Additives, Restarts: p.Restarts, Calls: p.Calls,
			MedianCall: p.MedianTime, ResidentBytes: p.ResidentBytes,
		}
	}
	return out
}
