package sdk

import additivev1 "lixivium.example/proto/lixivium/additive/v1"

// NewService is the door of a plugin, for tests that knock on it without a
// process.
func NewService(p *Plugin) additivev1.AdditiveServiceServer { return newService(p) }

// What the door reads requests with.
var (
	ReadQuestion = question
	ReadBatch    = batch
)
