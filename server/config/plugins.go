package config

import (
	"path/filepath"

	"go.yaml.in/yaml/v3"
)

// plugins reads the list of plugins that may be started.
func (p *parser) plugins(n *yaml.Node) {
	if n.Tag == "!!null" {
		return
	}
	if n.Kind != yaml.SequenceNode {
		p.fail(n, "plugins is %s; write a list, one entry for each plugin", kindOf(n))
		return
	}
	for _, item := range n.Content {
		x := Plugin{Place: p.place(item)}
		before := len(p.problems)
		p.keys(item, "plugins", []entry{
			{"name", p.text("plugins.name", &x.Name)},
			{"file", p.text("plugins.file", &x.File)},
			{"sha256", p.text("plugins.sha256", &x.SHA256)},
			{"grants", p.words("plugins.grants", &x.Grants)},
			{"additives", p.words("plugins.additives", &x.Additives)},
			{"watches_fats", p.words("plugins.watches_fats", &x.WatchesFats)},
		})
		if len(p.problems) == before {
			for _, needed := range []struct{ key, value string }{{"name", x.Name}, {"file", x.File}, {"sha256", x.SHA256}} {
				if needed.value == "" {
					p.fail(item, "plugins: this entry has no %s; lixiviumd plugin-line FILE prints the whole entry", needed.key)
				}
			}
		}
		if x.File != "" && !filepath.IsAbs(x.File) {
			x.File = filepath.Join(filepath.Dir(p.file), x.File)
			if absolute, err := filepath.Abs(x.File); err == nil {
				x.File = absolute
			}
		}
		p.config.Plugins = append(p.config.Plugins, x)
	}
}

// owners reads who answers for an additive that several plugins claim.
func (p *parser) owners(n *yaml.Node) {
	if n.Tag == "!!null" {
		return
	}
	if n.Kind != yaml.MappingNode {
		p.fail(n, "owners is %s; write additive: plugin", kindOf(n))
		return
	}
	p.config.Owners = map[string]string{}
	for i := 0; i+1 < len(n.Content); i += 2 {
		key := n.Content[i].Value
		if _, twice := p.config.Owners[key]; twice {
			p.fail(n.Content[i], "%q stands here a second time; keep one of them", key)
		}
		if v, ok := p.scalar(n.Content[i+1], "owners."+key, "the name of a plugin"); ok {
			p.config.Owners[key] = v
		}
	}
}

// text reads one word.
func (p *parser) text(key string, to *string) func(*yaml.Node) {
	return func(n *yaml.Node) {
		if v, ok := p.scalar(n, key, "a text"); ok {
			*to = v
		}
	}
}

// words reads a list of words.
func (p *parser) words(key string, to *[]string) func(*yaml.Node) {
	return func(n *yaml.Node) {
		if n.Tag == "!!null" {
			return
		}
		if n.Kind != yaml.SequenceNode {
			p.fail(n, "%s is %s; write a list such as [water, trace]", key, kindOf(n))
			return
		}
		for _, item := range n.Content {
			if v, ok := p.scalar(item, key, "a word"); ok {
				*to = append(*to, v)
			}
		}
	}
}
