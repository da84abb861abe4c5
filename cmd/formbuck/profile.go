package main

import "github.com/spf13/cobra"

func newProfile(_ *app) *cobra.Command { return &cobra.Command{Use: "profile"} }
func loadWork(order) (work, error)     { return nil, nil }
