package server

import "github.com/gin-gonic/gin"

func (s *Server) clientRoutes(g gin.IRouter) {}
