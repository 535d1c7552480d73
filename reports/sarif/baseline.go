package sarif

import (
	"encoding/json"
	"fmt"
	"net/url"

	"fingerproof/pipeline/3_records/state"
)

// ReadBaseline reads the findings of an earlier log of ours. Those that were
// absent already are left out. is says whether data is a SARIF log at all.
func ReadBaseline(data []byte) (b *state.Baseline, is bool, err error) {
	var old log
	var probe struct {
		Runs    json.RawMessage `json:"runs"`
		Version string          `json:"version"`
	}
	if json.Unmarshal(data, &probe) != nil || probe.Runs == nil {
		return nil, false, nil
	}
	if probe.Version != version {
		return nil, true, fmt.Errorf(
			"reading an earlier SARIF log: its version is %q, this program reads %s", probe.Version, version,
		)
	}
	if err := json.Unmarshal(data, &old); err != nil {
		return nil, true, fmt.Errorf("reading an earlier SARIF log: %w", err)
	}
	var known []state.Known
	for _, r := range old.Runs {
		for i := range r.Results {
			f := &r.Results[i]
			music, address := f.Fingerprints[MusicName], f.Fingerprints[AddressName]
			if f.Baseline == "absent" || music+address == "" || f.Properties == nil {
				continue
			}
			k := state.Known{
				Piece: f.Properties.Piece, Rule: f.RuleID, Severity: f.Level, Message: f.Message.Text,
				Fingerprint: music, Address: address,
			}
			if len(f.Locations) > 0 {
				if k.File, err = url.PathUnescape(f.Locations[0].Physical.Artifact.URI); err != nil {
					return nil, true, fmt.Errorf("reading an earlier SARIF log: %w", err)
				}
			}
			known = append(known, k)
		}
	}
	return state.NewBaseline(known), true, nil
}
