package private

import (
	"fmt"
	"os"
	"os/user"
	"unsafe"

	"golang.org/x/sys/windows"
)

// forUser is the access list of what is the user's: full rights for the user, the system
// and administrators, handed down, and nothing taken over from the folder above.
const forUser = "D:P(A;OICI;FA;;;%s)(A;OICI;FA;;;SY)(A;OICI;FA;;;BA)"

func attributes() (*windows.SecurityAttributes, error) {
	sid, err := userSID()
	if err != nil {
		return nil, err
	}
	sd, err := windows.SecurityDescriptorFromString(fmt.Sprintf(forUser, sid))
	if err != nil {
		return nil, err
	}
	sa := &windows.SecurityAttributes{SecurityDescriptor: sd}
	sa.Length = uint32(unsafe.Sizeof(*sa))
	return sa, nil
}

func userSID() (*windows.SID, error) {
	u, err := windows.GetCurrentProcessToken().GetTokenUser()
	if err != nil {
		return nil, err
	}
	return u.User.Sid, nil
}

func makeFolder(dir string) error {
	name, err := windows.UTF16PtrFromString(dir)
	if err != nil {
		return err
	}
	sa, err := attributes()
	if err != nil {
		return err
	}
	if err := windows.CreateDirectory(name, sa); err != nil {
		return &os.PathError{Op: "mkdir", Path: dir, Err: err}
	}
	return nil
}

// The rights by which a file or folder, or what lies in it, can be changed; and those by
// which it can be read.
const (
	writing = windows.FILE_WRITE_DATA | windows.FILE_APPEND_DATA | 0x40 /* delete what is in it */ |
		windows.DELETE | windows.WRITE_DAC | windows.WRITE_OWNER | windows.GENERIC_WRITE | windows.GENERIC_ALL
	reading = windows.FILE_READ_DATA | windows.GENERIC_READ
)

// OnlyUserWrites refuses what belongs to another user, or what others may write to.
func OnlyUserWrites(name string) error {
	sd, err := windows.GetNamedSecurityInfo(name, windows.SE_FILE_OBJECT, windows.OWNER_SECURITY_INFORMATION|windows.DACL_SECURITY_INFORMATION)
	if err != nil {
		return &os.PathError{Op: "access rights", Path: name, Err: err}
	}
	owner, _, err := sd.Owner()
	if err != nil {
		return err
	}
	if ours, err := trusted(owner); err != nil {
		return err
	} else if !ours {
		return fmt.Errorf("%w: %s belongs to another user", ErrOpen, name)
	}
	who, err := stranger(sd, writing, trusted)
	if err == nil && who != "" {
		err = fmt.Errorf("%w: %s can write to %s (%s)", ErrOpen, who, name, CloseCommand(name))
	}
	return err
}

// NotForAll refuses a folder in which anybody may rename what is the user's.
func NotForAll(dir string) error {
	sd, err := windows.GetNamedSecurityInfo(dir, windows.SE_FILE_OBJECT, windows.DACL_SECURITY_INFORMATION)
	if err != nil {
		return &os.PathError{Op: "access rights", Path: dir, Err: err}
	}
	who, err := stranger(sd, writing&^(windows.FILE_WRITE_DATA|windows.FILE_APPEND_DATA), func(sid *windows.SID) (bool, error) {
		for _, all := range []windows.WELL_KNOWN_SID_TYPE{windows.WinWorldSid, windows.WinAuthenticatedUserSid,
			windows.WinBuiltinUsersSid, windows.WinBuiltinGuestsSid, windows.WinAnonymousSid, windows.WinInteractiveSid} {
			if sid.IsWellKnown(all) {
				return false, nil
			}
		}
		return true, nil
	})
	if err == nil && who != "" {
		err = fmt.Errorf("%w: anybody can write to %s (%s)", ErrOpen, dir, CloseCommand(dir))
	}
	return err
}

// OnlyUserReads refuses an open file that others may read or write: ErrReadable, with who.
func OnlyUserReads(f *os.File) error {
	sd, err := windows.GetSecurityInfo(windows.Handle(f.Fd()), windows.SE_FILE_OBJECT, windows.DACL_SECURITY_INFORMATION)
	if err != nil {
		return err
	}
	who, err := stranger(sd, reading|writing, trusted)
	if err == nil && who != "" {
		err = fmt.Errorf("%w (%s)", ErrReadable, who)
	}
	return err
}

// Create makes a new file that nobody but the user may read or write.
func Create(name string) (*os.File, error) {
	path, err := windows.UTF16PtrFromString(name)
	if err != nil {
		return nil, err
	}
	sa, err := attributes()
	if err != nil {
		return nil, err
	}
	h, err := windows.CreateFile(path, windows.GENERIC_WRITE, windows.FILE_SHARE_READ, sa, windows.CREATE_NEW, windows.FILE_ATTRIBUTE_NORMAL, 0)
	if err != nil {
		return nil, &os.PathError{Op: "create", Path: name, Err: err}
	}
	return os.NewFile(uintptr(h), name), nil
}

// CloseCommand is the command that takes everybody else's rights to a file away.
func CloseCommand(name string) string {
	who := "%USERNAME%"
	if u, err := user.Current(); err == nil {
		who = u.Username
	}
	return fmt.Sprintf(`icacls "%s" /inheritance:r /grant:r "%s:F"`, name, who)
}

// Suffix is empty: the temporary folder is each user's own.
func Suffix() string { return "" }

// stranger names one who has any of these rights and does not pass, "" if there is none.
func stranger(sd *windows.SECURITY_DESCRIPTOR, rights windows.ACCESS_MASK, passes func(*windows.SID) (bool, error)) (string, error) {
	list, _, err := sd.DACL()
	if err != nil {
		return "", err
	}
	if list == nil {
		return "everybody", nil // no list at all lets everybody do everything
	}
	for i := range uint32(list.AceCount) {
		var entry *windows.ACCESS_ALLOWED_ACE
		if err := windows.GetAce(list, i, &entry); err != nil {
			return "", err
		}
		// What only denies, or is only handed down, gives no right here.
		if !gives(entry.Header.AceType) || entry.Header.AceFlags&windows.INHERIT_ONLY_ACE != 0 || entry.Mask&rights == 0 {
			continue
		}
		sid := (*windows.SID)(unsafe.Pointer(&entry.SidStart))
		if ok, err := passes(sid); err != nil {
			return "", err
		} else if !ok {
			if account, _, _, err := sid.LookupAccount(""); err == nil {
				return account, nil
			}
			return sid.String(), nil
		}
	}
	return "", nil
}

// gives tells whether an entry of this type gives rights: plain, or under a condition, which
// counts as met.
func gives(kind byte) bool { return kind == windows.ACCESS_ALLOWED_ACE_TYPE || kind == 9 }

// trusted tells the user, the system and administrators from all others.
func trusted(sid *windows.SID) (bool, error) {
	ours, err := userSID()
	if err != nil {
		return false, err
	}
	return sid.Equals(ours) || sid.IsWellKnown(windows.WinLocalSystemSid) || sid.IsWellKnown(windows.WinBuiltinAdministratorsSid) ||
		sid.IsWellKnown(windows.WinCreatorOwnerSid) || sid.IsWellKnown(windows.WinCreatorOwnerRightsSid), nil
}
