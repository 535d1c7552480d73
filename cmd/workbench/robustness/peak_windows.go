package robustness

import "os"

// peakMemory is not known here.
func peakMemory(*os.ProcessState) int64 { return 0 }
