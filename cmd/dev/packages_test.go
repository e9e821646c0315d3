package main

import (
	"slices"
	"strings"
	"testing"
)

func TestNotInstalled(t *testing.T) {
	wanted := []debianPackage{{"gcc", ""}, {"xorg-dev", ""}, {"xvfb", ""}, {"xauth", ""}}
	// What dpkg-query prints; it prints nothing about a package it has never heard
	// of.
	statuses := "gcc installed\nxorg-dev config-files\nxvfb-run installed\nxauth installed\n"
	got := names(notInstalled(wanted, statuses))
	if want := []string{"xorg-dev", "xvfb"}; !slices.Equal(got, want) {
		t.Errorf("missing %v, want %v", got, want)
	}
}

func TestMissingAsksDpkg(t *testing.T) {
	if !onPath("dpkg-query") {
		t.Skip("no dpkg-query on this system")
	}
	s, _ := testShop(t)
	got, err := s.missing([]debianPackage{{"dpkg", ""}, {"strakewright-no-such-package", ""}})
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"strakewright-no-such-package"}; !slices.Equal(names(got), want) {
		t.Errorf("missing %v, want %v", names(got), want)
	}
}

func TestAsRoot(t *testing.T) {
	missing := []debianPackage{{"gcc", ""}, {"xvfb", ""}}
	if words, err := asRoot(0, true, missing); err != nil || words[0] != "env" {
		t.Errorf("root: %v, %v", words, err)
	}
	if words, err := asRoot(1000, true, missing); err != nil || words[0] != "sudo" {
		t.Errorf("sudo: %v, %v", words, err)
	}
	_, err := asRoot(1000, false, missing)
	if err == nil || !strings.Contains(err.Error(), `"apt-get update && apt-get install -y --no-install-recommends gcc xvfb"`) {
		t.Errorf("neither: %v, want the command to run", err)
	}
}

func TestEveryPackageHasAReason(t *testing.T) {
	all := slices.Concat(forBuild, forWindow, forTests)
	seen := map[string]bool{}
	for _, p := range all {
		if p.reason == "" || seen[p.name] {
			t.Errorf("%s has no reason or is listed twice", p.name)
		}
		seen[p.name] = true
	}
}
