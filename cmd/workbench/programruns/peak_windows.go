package programruns

import "os"

// PeakMemory is not known here.
func PeakMemory(*os.ProcessState) int64 { return 0 }
