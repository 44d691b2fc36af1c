package private

import (
	"testing"

	"golang.org/x/sys/windows"
)

// open lets everybody do everything to a file or folder.
func open(t *testing.T, name string) {
	t.Helper()
	sd, err := windows.SecurityDescriptorFromString("D:P(A;;FA;;;WD)")
	if err != nil {
		t.Fatal(err)
	}
	list, _, err := sd.DACL()
	if err != nil {
		t.Fatal(err)
	}
	if err := windows.SetNamedSecurityInfo(name, windows.SE_FILE_OBJECT, windows.DACL_SECURITY_INFORMATION, nil, nil, list, nil); err != nil {
		t.Fatal(err)
	}
}
